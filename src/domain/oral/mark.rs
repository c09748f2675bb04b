//! Marks an answer of a sitting: what was typed or set is marked as in the watch; what was said aloud by its points.

use super::sitting::{Answered, Asked, Mark, MarkedBy, OralPoint, Question};
use crate::domain::answer::{Answer, Given};
use crate::domain::card::{Body, Card, Recall};
use crate::domain::marking::{AnswerError, Detail, Marking, mark};
use crate::domain::outcome::Outcome;
use crate::domain::piping::Want;
use crate::domain::plant::{Severity, prove};

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
        body: Body::Recall(Recall { points: question.points.iter().map(OralPoint::key_point).collect() }),
        ..lead.clone()
    }
}

/// What a full answer holds, to be ticked by whoever heard it.
pub fn expected(question: &Question, lead: &Card) -> Vec<OralPoint> {
    if question.asked != Asked::Lead {
        return question.points.clone();
    }
    let plain = |say: String, critical: bool| OralPoint { say, accept: Vec::new(), reject: Vec::new(), critical };
    match &lead.body {
        Body::Recall(recall) => recall.points.iter().map(OralPoint::of).collect(),
        Body::Figure(figure) => vec![plain(figure.value_text.clone(), false)],
        Body::Why(why) => why.links.iter().map(|link| plain(link.clone(), false)).collect(),
        Body::Sequence(procedure) => {
            let order = prove(procedure).ok().and_then(|proof| proof.one).unwrap_or_default();
            let steps = order.into_iter().map(|step| plain(procedure.steps[step].say.clone(), false));
            steps.chain([plain("In an order that works".to_owned(), false)]).collect()
        }
        Body::Lineup(network) => network
            .demands
            .iter()
            .map(|demand| plain(demand.name.clone(), matches!(demand.want, Want::Never(_))))
            .collect(),
        Body::Working(working) => working
            .lines
            .iter()
            .map(|line| plain(format!("{} = {}", line.name, line.is), false))
            .chain([plain(format!("The right figure, in {}", working.unit), false)])
            .collect(),
        Body::Point(pointing) => vec![plain(pointing.name().unwrap_or("The right part").to_owned(), false)],
    }
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

/// The point of a step that was done too early, with what that does.
pub(super) fn too_early(step: &str, tell: &str) -> String {
    format!("Not too early: {}. {tell}", step.trim_end_matches('.'))
}

/// The point of a step that belongs to no right order.
pub(super) fn never(step: &str) -> String {
    format!("Never: {step}")
}

/// A marking as the points that it rests on.
pub fn marks_of(card: &Card, marking: &Marking) -> Vec<Mark> {
    let plain = |say: &str, earned: f64, critical: bool| Mark { say: say.to_owned(), earned, critical };
    let by_outcome = match marking.outcome {
        Outcome::Missed => 0.0,
        Outcome::Prompted => 0.5,
        Outcome::Answered | Outcome::Fluent => 1.0,
    };
    let share = |yes: bool| if yes { 1.0 } else { 0.0 };
    match (&marking.detail, &card.body) {
        (Detail::Recall { points }, Body::Recall(recall)) => recall
            .points
            .iter()
            .zip(points)
            .map(|(point, mark)| plain(&point.say, share(mark.said), point.critical))
            .collect(),
        (Detail::Figure { expected, .. }, _) => vec![plain(expected, by_outcome, false)],
        (Detail::Why { in_order, false_links }, Body::Why(why)) => {
            let right = in_order.saturating_sub(*false_links) as f64 / why.links.len().max(1) as f64;
            vec![plain(&format!("In order: {}", why.links.join("; ")), right, false)]
        }
        (Detail::Sequence { reaches_goal, breaks, traps, left_out, .. }, Body::Sequence(procedure)) => {
            let say = |key: &str| procedure.step_of(key).map_or("", |step| procedure.steps[step].say.as_str());
            let needed = prove(procedure).map(|proof| proof.needed).unwrap_or_default();
            let wrong = |step: usize| {
                let key = &procedure.steps[step].key;
                left_out.contains(key) || breaks.iter().any(|b| b.step == *key)
            };
            let mut marks: Vec<Mark> =
                needed.into_iter().map(|step| plain(&procedure.steps[step].say, share(!wrong(step)), false)).collect();
            for bad in breaks.iter().filter(|b| b.severity.is_grave()) {
                marks.push(plain(&too_early(say(&bad.step), &bad.tell), 0.0, true));
            }
            for key in traps {
                let severity = procedure
                    .step_of(key)
                    .and_then(|s| procedure.steps[s].trap.as_ref())
                    .map_or(Severity::NoEffect, |t| t.severity);
                marks.push(plain(&never(say(key)), 0.0, severity.is_grave()));
            }
            marks.push(plain("The goal is reached", share(*reaches_goal), false));
            marks
        }
        (Detail::Lineup { demands, .. }, Body::Lineup(network)) => network
            .demands
            .iter()
            .zip(demands)
            .map(|(demand, mark)| plain(&demand.name, share(mark.met), matches!(demand.want, Want::Never(_))))
            .collect(),
        (Detail::Working { expected, .. }, _) => vec![plain(expected, by_outcome, false)],
        (Detail::Point { hit, .. }, Body::Point(pointing)) => {
            vec![plain(pointing.name().unwrap_or("The right part"), share(*hit), false)]
        }
        _ => Vec::new(),
    }
}
