//! The examiner: what comes next in a sitting.

use super::blueprint::Length;
use super::draw::{self, Candidate};
use super::followup;
use super::setup::Manner;
use super::sitting::{Asked, Question, Sitting};
use crate::domain::card::Card;

/// What comes next.
#[derive(Debug, Clone, PartialEq)]
pub enum Next {
    /// The question to ask; the one that stands, while one does.
    Ask(Box<Question>),
    /// The sitting is over.
    End(Ended),
}

/// Why a sitting is over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ended {
    /// All lead questions are asked.
    AllAsked,
    /// The minutes are up.
    TimeUp,
    /// There is nothing left to ask.
    NothingLeft,
}

/// What comes next, from the turns so far and the cards that may be asked; equal sittings and cards give equal questions.
pub fn next(sitting: &Sitting, candidates: &[Candidate<'_>]) -> Next {
    if let Some(standing) = sitting.standing() {
        return Next::Ask(Box::new(standing.clone()));
    }
    let time_up =
        matches!(sitting.setup.blueprint.length, Length::Minutes(n) if sitting.seconds() >= f64::from(n) * 60.0);
    if let Some(question) = followup::follow_up(sitting, candidates, time_up) {
        return Next::Ask(Box::new(question));
    }
    let all_asked = matches!(sitting.setup.blueprint.length, Length::Questions(n) if sitting.leads().count() >= n);
    if all_asked || time_up {
        return Next::End(if all_asked { Ended::AllAsked } else { Ended::TimeUp });
    }
    match draw::lead(sitting, candidates) {
        Some(candidate) => Next::Ask(Box::new(lead_question(sitting, candidate))),
        None => Next::End(Ended::NothingLeft),
    }
}

fn lead_question(sitting: &Sitting, candidate: &Candidate<'_>) -> Question {
    let card = candidate.card;
    let ran_dry = sitting.turns.last().and_then(|turn| turn.answer.as_ref()).is_some_and(|answer| answer.ran_dry);
    Question {
        id: card.key.to_string(),
        card: card.key.clone(),
        competence: card.topic.clone(),
        depth: 0,
        asked: Asked::Lead,
        about: None,
        lead_in: if ran_dry { "Next question.".to_owned() } else { String::new() },
        ask: card.ask.clone(),
        points: Vec::new(),
        sources: candidate.sources.iter().map(|source| source.title.clone()).collect(),
        limit_seconds: limit(card, sitting.setup.manner),
    }
}

/// Seconds that an answer may take: two and a half times what a good answer takes, or a figure for its kind.
fn limit(card: &Card, manner: Manner) -> f64 {
    let by_kind = card.kind().facts().oral_seconds;
    let seconds = card.seconds.map_or(by_kind, |seconds| (2.5 * seconds).clamp(30.0, 900.0));
    manner.seconds(seconds)
}
