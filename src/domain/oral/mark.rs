//! Marks an answer of a sitting: what was typed or set is marked as in the watch; what was said aloud by its points.

use super::sitting::{Answered, Asked, Mark, MarkedBy, OralPoint, Question};
use crate::domain::answer::{Answer, Given};
use crate::domain::card::{Card, Recall};
use crate::domain::marking::{AnswerError, Marking, mark};
use crate::domain::outcome::Outcome;

/// What came to a question.
#[derive(Debug, Clone, PartialEq)]
pub struct Reply {
    /// What was given.
    pub what: What,
    /// Time taken.
    pub seconds: f64,
    /// Who marks it.
    pub by: MarkedBy,
    /// The second person's note.
    pub note: String,
    /// The recording's file name.
    pub recording: Option<String>,
}

/// What was given to a question.
#[derive(Debug, Clone, PartialEq)]
pub enum What {
    /// Typed or set, to be marked by the program.
    Given(Given),
    /// Said aloud; points (from 1) of [`expected`] that were there, and the second person's own outcome, if any.
    Said(Vec<usize>, Option<Outcome>),
    /// Nothing, or no more.
    RanDry,
}

/// The card that a question is marked as: the lead's own, or for a follow-up a recall card of its points.
pub fn card_of(question: &Question, lead: &Card) -> Card {
    if question.asked == Asked::Lead {
        return lead.clone();
    }
    Card {
        ask: question.ask.clone(),
        because: None,
        because_points: Vec::new(),
        caution: None,
        picture: None,
        seconds: None,
        probes: Vec::new(),
        body: Recall { points: question.points.iter().map(OralPoint::key_point).collect() }.into(),
        ..lead.clone()
    }
}

/// What a full answer holds, to be ticked by whoever heard it.
pub fn expected(question: &Question, lead: &Card) -> Vec<OralPoint> {
    if question.asked != Asked::Lead {
        return question.points.clone();
    }
    lead.body.as_kind().expected().iter().map(OralPoint::of).collect()
}

/// Marks a reply.
///
/// # Errors
/// Where what was given does not fit the card.
pub fn answered(question: &Question, lead: &Card, reply: Reply) -> Result<Answered, AnswerError> {
    let points = expected(question, lead);
    let blank = |earned: f64| -> Vec<Mark> {
        points.iter().map(|p| Mark { say: p.say.clone(), earned, critical: p.critical }).collect()
    };
    let mut given = None;
    let (marks, outcome) = match reply.what {
        What::RanDry => (blank(0.0), Outcome::Missed),
        What::Given(what) => {
            let card = card_of(question, lead);
            let marking = mark(&card, &Answer { given: what.clone(), seconds: Some(reply.seconds) })?;
            given = Some(what);
            (marks_of(&card, &marking), marking.outcome)
        }
        What::Said(said, ref own) => {
            let mut marks = blank(0.0);
            for point in &said {
                let Some(mark) = point.checked_sub(1).and_then(|at| marks.get_mut(at)) else {
                    return Err(AnswerError {
                        message: format!("point {point} does not exist; use 1 to {}", points.len()),
                    });
                };
                mark.earned = 1.0;
            }
            given = Some(Given::Said(said));
            let outcome = own.unwrap_or_else(|| outcome_of(&marks));
            (marks, outcome)
        }
    };
    let ran_dry = given.is_none();
    Ok(Answered {
        given,
        marks,
        outcome,
        ran_dry,
        seconds: reply.seconds,
        by: reply.by,
        note: reply.note,
        recording: reply.recording,
    })
}

/// As the deck format states outcomes: a critical point missing is missed, otherwise by share.
fn outcome_of(marks: &[Mark]) -> Outcome {
    if marks.iter().any(|mark| mark.critical && mark.earned <= 0.0) {
        return Outcome::Missed;
    }
    Outcome::from_share(marks.iter().map(|mark| mark.earned).sum(), marks.len() as f64, false)
}

/// A marking as the points that it rests on.
pub fn marks_of(card: &Card, marking: &Marking) -> Vec<Mark> {
    let weighed = card.body.as_kind().weigh(&marking.detail, marking.outcome);
    weighed.into_iter().map(|it| Mark { say: it.say, earned: it.earned, critical: it.critical }).collect()
}
