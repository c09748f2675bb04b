//! Probes: the deck's own, and plain ones that the examiner makes from a card's points.

use super::sitting::{OralPoint, Turn};
use crate::domain::card::{After, Body, Card, Probe};

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
    pub(super) points: Vec<OralPoint>,
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
        points: probe.points.iter().map(OralPoint::of).collect(),
    }
}

/// A plain question for a missing point (from 0): it names what the point is about, never what it says of it.
pub(super) fn plain(turn: &Turn, point: usize, card: Option<&Card>) -> Option<Drafted> {
    let wanted = match (turn.question.points.get(point), card.map(|card| &card.body)) {
        (Some(wanted), _) => wanted.clone(),
        (None, Some(Body::Recall(recall))) => OralPoint::of(recall.points.get(point)?),
        (None, _) => {
            let mark = turn.answer.as_ref()?.marks.get(point)?;
            OralPoint { say: mark.say.clone(), accept: Vec::new(), reject: Vec::new(), critical: mark.critical }
        }
    };
    let lead_in = if wanted.critical { "That is not yet safe." } else { "That is not all." };
    let about = subject(&wanted.say).filter(|subject| !says_it(&wanted, subject));
    let ask = match about {
        Some(subject) => format!("You have said nothing of {subject}. What of it?"),
        None if wanted.critical => "Something that people's safety hangs on is missing. What is it?".to_owned(),
        None => "What have you left out?".to_owned(),
    };
    Some(Drafted { id: format!("missed-{}", point + 1), lead_in: lead_in.to_owned(), ask, points: vec![wanted] })
}

/// The reason behind a card, as a question of its own.
pub(super) fn reason(card: &Card) -> Option<Drafted> {
    let because = card.because.as_deref()?;
    let first = first_sentence(because);
    let point = OralPoint { say: first, accept: Vec::new(), reject: Vec::new(), critical: false };
    Some(Drafted {
        id: "reason".to_owned(),
        lead_in: "Good.".to_owned(),
        ask: "And the reason behind it?".to_owned(),
        points: vec![point],
    })
}

fn first_sentence(text: &str) -> String {
    let plain = text.replace(['*', '_', '`'], "").split_whitespace().collect::<Vec<_>>().join(" ");
    let end = plain.find(". ").map_or(plain.len(), |at| at + 1);
    plain[..end].to_owned()
}

/// Words that end the subject of a plain statement.
const VERBS: &[&str] = &[
    "is", "are", "was", "were", "has", "have", "must", "may", "can", "cannot", "will", "shall", "should", "does", "do",
    "goes", "go", "gives", "give", "takes", "take", "keeps", "keep", "stops", "stop", "starts", "start", "opens",
    "open", "closes", "close", "shuts", "shut", "comes", "come", "falls", "fall", "rises", "rise", "supplies",
    "supply", "feeds", "feed", "drives", "drive", "carries", "carry", "holds", "hold", "sees", "see", "makes", "make",
    "lets", "let", "needs", "need", "runs", "run", "trips", "trip", "shows", "show", "prevents", "prevent", "protects",
    "protect", "limits", "limit", "cools", "cool", "reaches", "reach", "leaves", "leave", "becomes", "become", "means",
    "mean", "remains", "remain", "stays", "stay", "cuts", "cut", "loses", "lose", "causes", "cause", "allows", "allow",
    "removes", "remove", "controls", "control", "connects", "connect", "works", "work", "acts", "act", "ends", "end",
    "burns", "burn",
];

/// What a statement is about: the words before its verb, where they are few and it does not begin with the verb itself.
fn subject(say: &str) -> Option<String> {
    let words: Vec<&str> = say.split_whitespace().collect();
    let at = words
        .iter()
        .position(|word| VERBS.contains(&word.trim_matches(|c: char| !c.is_alphanumeric()).to_lowercase().as_str()))?;
    let first = words.first()?.to_lowercase();
    let vague = [
        "it",
        "this",
        "that",
        "they",
        "there",
        "one",
        "what",
        "if",
        "when",
        "you",
        "he",
        "she",
        "nothing",
        "no",
        "all",
        "everyone",
        "everybody",
        "nobody",
        "somebody",
        "both",
        "each",
    ];
    if !(1..=6).contains(&at)
        || vague.contains(&first.as_str())
        || words[..at].iter().any(|word| word.ends_with([',', ':', ';']))
    {
        return None;
    }
    let mut subject = words[..at].join(" ");
    let second_is_capital = subject.chars().nth(1).is_some_and(char::is_uppercase);
    if !second_is_capital && let Some(letter) = subject.chars().next() {
        subject.replace_range(..letter.len_utf8(), &letter.to_lowercase().to_string());
    }
    Some(subject)
}

/// The subject alone would already make the point.
fn says_it(point: &OralPoint, subject: &str) -> bool {
    let subject = subject.to_lowercase();
    point.accept.iter().any(|phrase| subject.contains(&phrase.to_lowercase()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_subject_of_a_statement_is_found_and_nothing_else() {
        for (say, wanted) in [
            ("The emergency switchboard is fed by its own set", Some("the emergency switchboard")),
            ("A pressure switch sees running pressure", Some("a pressure switch")),
            ("IAS alarms must be acknowledged", Some("IAS alarms")),
            ("Open the crankcase doors only when cool", None),
            ("It stops by itself", None),
            ("Tell the bridge", None),
            ("With the engine stopped, the pump is started", None),
        ] {
            assert_eq!(subject(say).as_deref(), wanted, "{say}");
        }
    }
}
