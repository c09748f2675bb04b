//! Follow-ups: exactly what was missed, or one level deeper, never deeper than three and never the same twice.

use super::draw::{Candidate, by_lot, rng};
use super::examiner::pressed;
use super::probe::{self, Drafted};
use super::sitting::{Asked, Manner, Question, Sitting, Turn};
use super::what_if;
use crate::domain::card::Card;

/// The deepest follow-up.
const DEEPEST: u8 = 3;
/// Seconds for a follow-up.
const SECONDS: f64 = 75.0;

/// The next follow-up; none where the examiner goes on to something else. After the time is up, only what is
/// safety-critical and missing is still asked.
pub(super) fn follow_up(sitting: &Sitting, candidates: &[Candidate<'_>], time_up: bool) -> Option<Question> {
    let thread = sitting.thread();
    let lead = &thread.first()?.question.card;
    let card = candidates.iter().find(|c| c.card.key == *lead).map(|c| c.card);
    let first = sitting.turns.len() - thread.len();
    if let Some(question) = critical(sitting, first, card) {
        return Some(question);
    }
    let most = match sitting.setup.manner {
        Manner::Steady => 2,
        Manner::Pressing => 4,
    };
    if time_up || thread.len() > most {
        return None;
    }
    let at = sitting.turns.len().checked_sub(1)?;
    let turn = &sitting.turns[at];
    let answer = turn.answer.as_ref()?;
    let nothing = answer.ran_dry || answer.marks.iter().all(|mark| mark.earned <= 0.0);
    if nothing && sitting.setup.manner == Manner::Steady {
        return None;
    }
    if let (Asked::Missed(_), Some(before)) = (turn.question.asked, turn.question.about) {
        // After a prompt the rest of the same answer comes first; a pressing examiner goes deeper when there is none.
        let go_deeper = answer.is_full() && sitting.setup.manner == Manner::Pressing;
        return missed(sitting, before, card).or_else(|| go_deeper.then(|| deeper(sitting, at, card)).flatten());
    }
    if answer.is_full() { deeper(sitting, at, card) } else { missed(sitting, at, card) }
}

/// A safety-critical point of the thread that is missing and has not been asked for.
fn critical(sitting: &Sitting, first: usize, card: Option<&Card>) -> Option<Question> {
    (first..sitting.turns.len()).find_map(|at| {
        let turn = &sitting.turns[at];
        let answer = turn.answer.as_ref()?;
        // A follow-up for a missing point is the prompt; there is no second one.
        if matches!(turn.question.asked, Asked::Missed(_)) {
            return None;
        }
        let wanted = answer.missing().into_iter().filter(|point| answer.marks[*point].critical);
        wanted.into_iter().find_map(|point| for_point(sitting, at, point, card))
    })
}

/// The first point that is missing in a turn's answer and has not been asked for.
fn missed(sitting: &Sitting, at: usize, card: Option<&Card>) -> Option<Question> {
    let turn = &sitting.turns[at];
    if matches!(turn.question.asked, Asked::Missed(_)) {
        return None;
    }
    turn.answer.as_ref()?.missing().into_iter().find_map(|point| for_point(sitting, at, point, card))
}

/// A question for one missing point (from 0) of a turn's answer: the deck's own probe, or a plain one.
fn for_point(sitting: &Sitting, at: usize, point: usize, card: Option<&Card>) -> Option<Question> {
    let turn = &sitting.turns[at];
    let own = card.filter(|_| turn.question.asked == Asked::Lead).and_then(|card| probe::after_missed(card, point + 1));
    let drafted = own.or_else(|| probe::plain(turn, point, card))?;
    question(sitting, at, Asked::Missed(point + 1), drafted)
}

/// One level deeper after a full answer: the deck's probe for it or the model's "what if", and where there is neither,
/// the reason.
fn deeper(sitting: &Sitting, at: usize, card: Option<&Card>) -> Option<Question> {
    let card = card?;
    let turn = &sitting.turns[at];
    let fresh = |drafted: &Drafted| {
        !is_asked(sitting, &id(turn, &drafted.id)) && !is_asked(sitting, &format!("{}#{}", card.key, drafted.id))
    };
    let said = |point: usize| turn.question.asked == Asked::Lead && point >= 1;
    let probe = probe::after_answer(card, said).into_iter().find(fresh);
    let mut lot = rng(sitting.setup.seed ^ 0x5EED, sitting.turns.len());
    // After a question of the deck's the model has its turn; before one it is an even chance.
    let model_first = turn.question.asked == Asked::Deeper || by_lot([1.0, 1.0].into_iter(), &mut lot) == Some(0);
    if model_first || probe.is_none() {
        let what_ifs: Vec<Drafted> = what_if::all(card).into_iter().filter(fresh).collect();
        if let Some(at_random) = by_lot(what_ifs.iter().map(|_| 1.0), &mut lot) {
            return question(sitting, at, Asked::WhatIf, what_ifs.into_iter().nth(at_random)?);
        }
    }
    let drafted = probe.or_else(|| probe::reason(card).filter(fresh))?;
    question(sitting, at, Asked::Deeper, drafted)
}

fn question(sitting: &Sitting, at: usize, asked: Asked, drafted: Drafted) -> Option<Question> {
    let turn = &sitting.turns[at];
    let depth = turn.question.depth + 1;
    // What is about the card is named after the card, so that it is not asked again at another depth.
    let id = if matches!(asked, Asked::Missed(_)) {
        id(turn, &drafted.id)
    } else {
        format!("{}#{}", turn.question.card, drafted.id)
    };
    if depth > DEEPEST || is_asked(sitting, &id) {
        return None;
    }
    Some(Question {
        id,
        card: turn.question.card.clone(),
        competence: turn.question.competence.clone(),
        depth,
        asked,
        about: Some(at),
        lead_in: drafted.lead_in,
        ask: drafted.ask,
        points: drafted.points,
        sources: turn.question.sources.clone(),
        limit_seconds: pressed(SECONDS, sitting.setup.manner),
    })
}

fn id(turn: &Turn, part: &str) -> String {
    format!("{}#{part}", turn.question.id)
}

fn is_asked(sitting: &Sitting, id: &str) -> bool {
    sitting.turns.iter().any(|turn| turn.question.id == id)
}
