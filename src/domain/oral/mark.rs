//! The one way from a question to a marked answer: the card that it is answered as, which [`mark`] marks like any other,
//! and the turn's answer that the marking makes.
//!
//! [`mark`]: crate::domain::marking::mark

use super::setup::Way;
use super::sitting::{Answered, Asked, Mark, MarkedBy, Question};
use crate::domain::answer::Given;
use crate::domain::card::Card;
use crate::domain::key_point::KeyPoint;
use crate::domain::kinds::recall::Recall;
use crate::domain::marking::Marking;
use crate::domain::outcome::Outcome;

/// A marked answer before it is kept.
#[derive(Debug, Clone, PartialEq)]
pub struct Reply {
    /// What was given.
    pub given: Given,
    /// What it was marked as, after the learner's or the second person's ticks.
    pub marking: Marking,
    /// The outcome that counts: the marking's, or that of whoever moved it.
    pub outcome: Outcome,
    /// The learner has corrected what the program read.
    pub corrected: bool,
    /// Time taken.
    pub seconds: f64,
    /// The second person's note.
    pub note: String,
    /// The recording's file name.
    pub recording: Option<String>,
}

/// The card that a question is answered as: set or typed, or its points to be ticked by whoever hears the answer. A
/// calculation is worked on paper and a part pointed at before any examiner: both stay on the sheet.
pub fn card_for(way: Way, question: &Question, lead: &Card) -> Card {
    let on_sheet = question.asked == Asked::Lead && lead.body.as_kind().stays_on_the_sheet();
    match way {
        Way::Write => typed(question, lead),
        _ if on_sheet => typed(question, lead),
        Way::Speak | Way::Second => Card { ask: question.ask.clone(), ..lead.saying(expected(question, lead)) },
    }
}

/// The lead's own card, or for a follow-up a recall card of its points.
fn typed(question: &Question, lead: &Card) -> Card {
    if question.asked == Asked::Lead {
        return lead.clone();
    }
    follow_up(lead, &question.ask, &question.points)
}

/// A follow-up of a card as a card of its own, under the key of its lead: what is asked, and the points of a full answer.
pub fn follow_up(lead: &Card, ask: &str, points: &[KeyPoint]) -> Card {
    Card {
        ask: ask.to_owned(),
        because_points: Vec::new(),
        caution: None,
        picture: None,
        seconds: None,
        probes: Vec::new(),
        samples: Vec::new(),
        was: Vec::new(),
        body: Recall { points: points.to_vec() }.into(),
        ..lead.clone()
    }
}

/// What a full answer holds, to be ticked by whoever heard it.
fn expected(question: &Question, lead: &Card) -> Vec<KeyPoint> {
    if question.asked != Asked::Lead {
        return question.points.clone();
    }
    lead.body.as_kind().expected()
}

/// The answer that a marking of the question's card makes.
pub fn answered(way: Way, card: &Card, reply: Reply) -> Answered {
    let by = match way {
        _ if card.key_points().is_none() => MarkedBy::Program,
        Way::Second => MarkedBy::Second,
        Way::Write if !reply.corrected => MarkedBy::Program,
        _ => MarkedBy::Learner,
    };
    Answered {
        marks: marks_of(card, &reply.marking),
        given: Some(reply.given),
        outcome: reply.outcome,
        ran_dry: false,
        seconds: reply.seconds,
        by,
        note: reply.note.trim().to_owned(),
        recording: reply.recording,
    }
}

/// The answer of a learner who had nothing, or no more, to say: every point of a full answer is missing.
pub fn nothing_said(question: &Question, lead: &Card, seconds: f64, recording: Option<String>) -> Answered {
    let missing = |point: KeyPoint| Mark { say: point.say, earned: 0.0, critical: point.critical };
    Answered {
        given: None,
        marks: expected(question, lead).into_iter().map(missing).collect(),
        outcome: Outcome::Missed,
        ran_dry: true,
        seconds,
        by: MarkedBy::Program,
        note: String::new(),
        recording,
    }
}

/// A marking as the points that it rests on.
fn marks_of(card: &Card, marking: &Marking) -> Vec<Mark> {
    let weighed = card.body.weigh(&marking.detail, marking.outcome);
    weighed.into_iter().map(|it| Mark { say: it.say, earned: it.earned, critical: it.critical }).collect()
}
