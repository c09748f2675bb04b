//! The rule that joins the two readers of a typed answer: the matcher of words and the trained reader.
//!
//! Two logistic sums over a few things that are known of a point, one for *said* and one for *denied*, fitted by
//! `training/join.py` on answers to cards that neither reader was made with. Between the thresholds the rule does not
//! guess: the point is *unsure*, and the learner or the examiner settles it.

use std::ops::Range;

use super::reader::{PointReading, Reading};
use super::text::Finding;
use crate::domain::key_point::KeyPoint;

/// What both readers together make of a point.
#[derive(Debug, Clone, PartialEq)]
pub struct Joined {
    /// The answer makes the point.
    pub said: bool,
    /// The answer denies it.
    pub contradicted: bool,
    /// It may make it: whoever answered is asked.
    pub unsure: bool,
    /// Where the answer makes, denies or touches it, in bytes.
    pub evidence: Option<Range<usize>>,
    /// What the rule went by.
    pub ground: Ground,
}

/// What the rule went by for one point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ground {
    /// The chance of *said* by the fitted sum, 0 to 1.
    pub said: f64,
    /// The chance of *denied* by the fitted sum, 0 to 1.
    pub denied: f64,
    /// How much another point claims the same words, 0 to 1.
    pub rival: f64,
    /// How much of the rest of the card the trained reader found, 0 to 1.
    pub share: f64,
}

/// Weights of a sum, in the order of [`inputs`].
type Weights = [f64; 8];

/// Fitted by `training/join.py` on 1 December 2026.
const SAID: Weights = [0.5563, 0.72, 0.04665, 1.387, -1.335, -0.5095, -0.1232, -0.1353];
const DENIED: Weights = [-0.1366, 0.02538, 0.7513, -0.3398, 1.952, -0.4185, -0.7453, -0.7349];

/// A point is said from this chance on.
const SAID_FROM: f64 = 0.5;
/// A safety-critical point is said from this chance on, and only where no reader speaks against it: the matcher does not
/// hold it for contradicted, and the trained reader gives a denial less than this likelihood. Both readers' agreement
/// in the narrow sense, both finding it, would leave nine of ten right answers in other words to the learner's yes.
const CRITICAL_FROM: f64 = 0.8;
const CRITICAL_DENIAL_BELOW: f64 = 0.2;
/// In an answer of so few words a safety-critical point is said only where the matcher finds it too; else it is not sure.
/// A bare name says little to the trained reader: "HFO" looked to it like another word for gas oil.
const FEW_WORDS: usize = 3;
/// A point that would be said is not sure where its denial has this chance.
const SAID_DENIAL_BELOW: f64 = 0.35;
/// From this chance of *said* on, up to that at which it is said, a point is not sure.
const UNSURE_FROM: f64 = 0.3;
/// A point is denied from this chance on. Three of ten denials told of the judged answers were none, which is why the
/// answer's words are shown beside one.
const DENIED_FROM: f64 = 0.6;
/// The trained reader's likelihoods are taken for at least and at most this, so that one certainty cannot outweigh all.
const CERTAIN: f64 = 0.002;

/// Joins what both readers made of a card's points in the answer `text`.
pub(in crate::domain) fn join(points: &[KeyPoint], found: &[Finding], reading: &Reading, text: &str) -> Vec<Joined> {
    let read = &reading.points;
    let is_short = text.split_whitespace().take(FEW_WORDS + 1).count() <= FEW_WORDS;
    (0..points.len().min(found.len()).min(read.len()))
        .map(|at| one((points[at].critical, is_short), &found[at], read, at))
        .collect()
}

/// The rule in words, with its thresholds and with what it went by for each point.
pub fn rule_in_words(points: &[KeyPoint], found: &[Finding], reading: &Reading, answer: &str) -> String {
    let mut text = format!(
        "The rule: denied from {DENIED_FROM:.2}; said from {SAID_FROM:.2} with a denial below {SAID_DENIAL_BELOW:.2}; a \
         safety-critical point from {CRITICAL_FROM:.2}, and only where no reader speaks against it, in at most \
         {FEW_WORDS} words only where the matcher finds it too; not sure from {UNSURE_FROM:.2}.\n"
    );
    for (at, joined) in join(points, found, reading, answer).iter().enumerate() {
        let Ground { said, denied, rival, share } = joined.ground;
        text += &format!(
            "Point {}: said {said:.3}, denied {denied:.3}; another point claims its words to {rival:.2}, of the rest of \
             the card {share:.2} was found.\n",
            at + 1
        );
    }
    text
}

fn one((critical, is_short): (bool, bool), found: &Finding, read: &[PointReading], at: usize) -> Joined {
    let own = &read[at];
    let others = || read.iter().enumerate().filter(|(other, _)| *other != at).map(|(_, point)| point);
    let claim = |point: &PointReading| overlap(own.evidence.as_ref(), point.evidence.as_ref()) * point.said.share();
    let rival = others().map(claim).fold(0.0, f64::max);
    let share = others().map(|point| point.said.share()).sum::<f64>() / others().count().max(1) as f64;
    let inputs = inputs(own, found, rival, share);
    let ground = Ground { said: chance(&SAID, &inputs), denied: chance(&DENIED, &inputs), rival, share };
    let contradicted = ground.denied >= DENIED_FROM;
    let spoken_against = found.contradicted || own.denied.share() >= CRITICAL_DENIAL_BELOW;
    let bare = is_short && !found.said;
    let is_clear = match critical {
        true => ground.said >= CRITICAL_FROM && !spoken_against && !bare,
        false => ground.said >= SAID_FROM,
    };
    let said = is_clear && ground.denied < SAID_DENIAL_BELOW;
    let unsure = !contradicted && !said && ground.said >= UNSURE_FROM;
    let evidence = match (said || contradicted || unsure, &found.evidence) {
        (false, _) => None,
        (true, Some(words)) if found.said == said && found.contradicted == contradicted => Some(words.clone()),
        (true, _) => own.evidence.clone(),
    };
    Joined { said, contradicted, unsure, evidence, ground }
}

/// What a sum is over; `training/join.py` has the same list.
fn inputs(read: &PointReading, found: &Finding, rival: f64, share: f64) -> Weights {
    let yes = |is: bool| f64::from(u8::from(is));
    let (said, denied) = (read.said.share(), read.denied.share());
    let matched = yes(found.said);
    [1.0, logit(said), logit(denied), matched, yes(found.contradicted), matched * denied, rival, share]
}

fn logit(share: f64) -> f64 {
    let share = share.clamp(CERTAIN, 1.0 - CERTAIN);
    (share / (1.0 - share)).ln()
}

fn chance(weights: &Weights, inputs: &Weights) -> f64 {
    let sum: f64 = weights.iter().zip(inputs).map(|(weight, input)| weight * input).sum();
    1.0 / (1.0 + (-sum).exp())
}

/// How much of the first stretch the second covers, 0 to 1.
fn overlap(first: Option<&Range<usize>>, second: Option<&Range<usize>>) -> f64 {
    let (Some(first), Some(second)) = (first, second) else { return 0.0 };
    let both = first.end.min(second.end).saturating_sub(first.start.max(second.start));
    both as f64 / first.len().max(1) as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::marking::reader::Score;

    fn read(said: u16, denied: u16) -> PointReading {
        PointReading { said: Score(said), denied: Score(denied), evidence: Some(0..10) }
    }

    fn joined(critical: bool, found: Finding, read: PointReading) -> Joined {
        let point = KeyPoint::plain("The tank is vented".to_owned(), critical);
        join(&[point], &[found], &Reading { points: vec![read] }, "I open the vent of the tank").remove(0)
    }

    fn matched() -> Finding {
        Finding { said: true, contradicted: false, evidence: Some(2..6) }
    }

    #[test]
    fn what_both_find_is_said_with_the_matchers_words() {
        let both = joined(true, matched(), read(980, 5));
        assert!(both.said && !both.contradicted && !both.unsure);
        assert_eq!(both.evidence, Some(2..6));
    }

    #[test]
    fn other_words_are_said_where_the_trained_reader_alone_finds_them() {
        let read = joined(false, Finding::default(), read(950, 5));
        assert!(read.said && read.evidence == Some(0..10));
    }

    #[test]
    fn a_critical_point_is_never_said_where_a_reader_speaks_against_it() {
        for (found, read) in [
            (matched(), read(700, 250)),
            (Finding { said: false, contradicted: true, evidence: Some(0..4) }, read(960, 5)),
            (matched(), read(20, 950)),
        ] {
            assert!(!joined(true, found, read).said);
        }
    }

    #[test]
    fn a_denial_is_told_though_the_right_words_stand_in_it() {
        let denied = joined(false, matched(), read(10, 960));
        assert!(denied.contradicted && !denied.said && !denied.unsure);
        assert_eq!(denied.evidence, Some(0..10));
    }

    #[test]
    fn a_bare_name_makes_a_critical_point_only_where_the_matcher_finds_it() {
        let points = |critical| [KeyPoint::plain("The tank is vented".to_owned(), critical)];
        let short = |critical, found| {
            join(&points(critical), &[found], &Reading { points: vec![read(980, 5)] }, "some bare name").remove(0)
        };
        let bare = short(true, Finding::default());
        assert!(bare.unsure && !bare.said && !bare.contradicted);
        assert!(short(true, matched()).said && short(false, Finding::default()).said);
    }

    #[test]
    fn in_between_it_is_not_sure() {
        let between = joined(true, Finding::default(), read(500, 60));
        assert!(between.unsure && !between.said && !between.contradicted && between.evidence.is_some());
        let nothing = joined(true, Finding::default(), read(10, 10));
        assert!(!nothing.unsure && nothing.evidence.is_none());
    }
}
