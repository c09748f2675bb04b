//! Probes: the deck's own; the plain "What else?" in a few fixed sentences; the reason, where the deck marks it. No
//! question is ever made from a point's words.

use crate::domain::card::{After, Card, Probe};
use crate::domain::key_point::KeyPoint;

/// A follow-up before it is placed in a sitting.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Drafted {
    /// Unlike the others of the same card.
    pub(super) id: String,
    /// What the examiner says first.
    pub(super) lead_in: String,
    /// The words.
    pub(super) ask: String,
    /// What a full answer says.
    pub(super) points: Vec<KeyPoint>,
}

/// The deck's probe after this point (from 1) was missed.
pub(super) fn after_missed(card: &Card, point: usize) -> Option<Drafted> {
    let at = card.probes.iter().position(|probe| probe.after == After::Missed(point))?;
    Some(own(&card.probes[at], at))
}

/// The deck's probes after a full answer: those for all of it first, then those for one point that was said.
pub(super) fn after_answer(card: &Card, said: impl Fn(usize) -> bool) -> Vec<Drafted> {
    let mut probes: Vec<(bool, Drafted)> = card
        .probes
        .iter()
        .enumerate()
        .filter_map(|(at, probe)| match probe.after {
            After::All => Some((false, own(probe, at))),
            After::Said(point) if said(point) => Some((true, own(probe, at))),
            _ => None,
        })
        .collect();
    probes.sort_by_key(|(later, _)| *later);
    probes.into_iter().map(|(_, drafted)| drafted).collect()
}

fn own(probe: &Probe, at: usize) -> Drafted {
    Drafted {
        id: format!("probe-{}", at + 1),
        lead_in: String::new(),
        ask: probe.ask.clone(),
        points: probe.points.clone(),
    }
}

/// What the examiner knows of an answer when asking "What else?".
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Lacking {
    /// Nothing that was asked for is there.
    pub(super) all: bool,
    /// Something safety-critical is missing.
    pub(super) critical: bool,
}

/// Sentences for an answer that holds something, but not all.
const WHAT_ELSE: [&str; 3] = ["What else?", "What have you left out?", "What else belongs to a full answer?"];
/// Sentences for such an answer where something safety-critical is missing.
const WHAT_ELSE_SAFE: [&str; 2] = ["What else?", "What is still missing?"];
/// For an answer in which nothing that was asked for is there, although something safety-critical is asked for.
const SAFETY: &str = "Something here is a matter of safety. What is it?";

/// "What else?" for points that are missing; `lot` chooses the sentence.
pub(super) fn what_else(number: usize, lacking: Lacking, points: Vec<KeyPoint>, lot: usize) -> Drafted {
    let (lead_in, ask) = match (lacking.all, lacking.critical) {
        (true, true) => ("", SAFETY),
        (true, false) => ("That does not answer it yet.", WHAT_ELSE[0]),
        (false, true) => ("That is not yet safe.", WHAT_ELSE_SAFE[lot % WHAT_ELSE_SAFE.len()]),
        (false, false) => ("That is not all.", WHAT_ELSE[lot % WHAT_ELSE.len()]),
    };
    Drafted { id: format!("else-{number}"), lead_in: lead_in.to_owned(), ask: ask.to_owned(), points }
}

/// So many characters of the learner's words are said back.
const SAID_BACK: usize = 90;

/// What the examiner asks for, once, where it is not sure what a typed answer says: the learner's own words are said back,
/// so that nothing is given away.
pub fn again(words: Option<&str>) -> String {
    let Some(words) = words.map(str::trim).filter(|words| !words.is_empty()) else {
        return "Say that again, in other words.".to_owned();
    };
    let mut said: String = words.split_whitespace().collect::<Vec<_>>().join(" ");
    if said.chars().count() > SAID_BACK {
        said = said.chars().take(SAID_BACK).collect();
        // Not in the middle of a word, where there is more than one.
        said.truncate(said.rfind(' ').unwrap_or(said.len()));
        said.push('…');
    }
    format!("Say that again, in other words: “{said}”")
}

/// What the id of a question about the reason ends with.
pub(super) const REASON: &str = "reason";

/// How the reason is asked for.
pub const REASON_ASKED: &str = "And the reason behind it?";

/// The reason behind a card as a question of its own, where the deck says what it must contain.
pub(super) fn reason(card: &Card) -> Option<Drafted> {
    (!card.because_points.is_empty()).then(|| Drafted {
        id: REASON.to_owned(),
        lead_in: "Good.".to_owned(),
        ask: REASON_ASKED.to_owned(),
        points: card.because_points.clone(),
    })
}

#[cfg(test)]
mod tests {
    use super::again;

    #[test]
    fn the_learners_own_words_are_said_back_and_not_too_many_of_them() {
        assert_eq!(again(Some(" open the\n drain ")), "Say that again, in other words: “open the drain”");
        assert_eq!(again(None), "Say that again, in other words.");
        let long = again(Some(&"word ".repeat(60)));
        assert!(long.ends_with("word…”") && long.chars().count() < 130, "{long}");
        assert!(again(Some(&"ü".repeat(200))).ends_with("ü…”"));
    }
}
