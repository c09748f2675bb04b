//! The one way from a question to a marked answer: the card that it is answered as, which [`mark`] marks like any other,
//! and the turn's answer that the marking makes.
//!
//! [`mark`]: crate::domain::marking::mark

use super::setup::Way;
use super::sitting::{Answered, Asked, Mark, MarkedBy, Question};
use crate::domain::answer::Given;
use crate::domain::card::{Body, Card, KeyPoint, Recall};
use crate::domain::marking::{Detail, Marking};
use crate::domain::outcome::Outcome;
use crate::domain::piping::Want;
use crate::domain::plant::{Severity, prove};

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
    let on_sheet = question.asked == Asked::Lead && matches!(lead.body, Body::Working(_) | Body::Point(_));
    match way {
        Way::Write => typed(question, lead),
        _ if on_sheet => typed(question, lead),
        Way::Speak | Way::Second => Card {
            ask: question.ask.clone(),
            body: Body::Recall(Recall { points: expected(question, lead) }),
            ..lead.clone()
        },
    }
}

/// The lead's own card, or for a follow-up a recall card of its points.
fn typed(question: &Question, lead: &Card) -> Card {
    if question.asked == Asked::Lead {
        return lead.clone();
    }
    Card {
        ask: question.ask.clone(),
        because_points: Vec::new(),
        caution: None,
        picture: None,
        seconds: None,
        probes: Vec::new(),
        body: Body::Recall(Recall { points: question.points.clone() }),
        ..lead.clone()
    }
}

/// What a full answer holds, to be ticked by whoever heard it.
fn expected(question: &Question, lead: &Card) -> Vec<KeyPoint> {
    if question.asked != Asked::Lead {
        return question.points.clone();
    }
    let plain = KeyPoint::plain;
    match &lead.body {
        Body::Recall(recall) => recall.points.clone(),
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

/// The answer that a marking of the question's card makes.
pub fn answered(way: Way, card: &Card, reply: Reply) -> Answered {
    let by = match way {
        _ if !matches!(card.body, Body::Recall(_)) => MarkedBy::Program,
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

/// The point of a step that was done too early, with what that does.
pub(super) fn too_early(step: &str, tell: &str) -> String {
    format!("Not too early: {}. {tell}", step.trim_end_matches('.'))
}

/// The point of a step that belongs to no right order.
pub(super) fn never(step: &str) -> String {
    format!("Never: {step}")
}

/// A marking as the points that it rests on.
fn marks_of(card: &Card, marking: &Marking) -> Vec<Mark> {
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
