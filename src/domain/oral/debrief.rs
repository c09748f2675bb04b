//! What a sitting came to, point by point: for the learner, and for a training officer.

use super::sitting::{Asked, Question, Sitting};
use super::verdict::{Verdict, recovered, repeats, verdict};
use crate::domain::ids::CardKey;

/// What a sitting came to.
#[derive(Debug, Clone, PartialEq)]
pub struct Debrief {
    /// Marks and failings.
    pub verdict: Verdict,
    /// Points that were missing, the safety-critical first, then in the order of asking.
    pub missed: Vec<MissedPoint>,
    /// Turns (from 0) that were answered in full, deeper questions first.
    pub well: Vec<usize>,
    /// Cards of lead questions whose answers were not full, in the order of asking.
    pub weak: Vec<CardKey>,
    /// Seconds answered.
    pub seconds: f64,
    /// Answers that took longer than their time.
    pub over_time: usize,
}

/// A point that was missing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MissedPoint {
    /// The turn, from 0.
    pub turn: usize,
    /// What a full answer says.
    pub say: String,
    /// Missing it is unsafe.
    pub critical: bool,
    /// The point came after the examiner's prompt.
    pub prompted: bool,
}

impl MissedPoint {
    /// A safety-critical point that did not come after a prompt either.
    pub fn is_fatal(&self) -> bool {
        self.critical && !self.prompted
    }
}

/// Looks back on a sitting, finished or broken off.
pub fn debrief(sitting: &Sitting) -> Debrief {
    let mut missed = Vec::new();
    let mut well: Vec<(bool, usize)> = Vec::new();
    let mut weak: Vec<CardKey> = Vec::new();
    let mut over_time = 0;
    for (at, turn) in sitting.turns.iter().enumerate() {
        let Some(answer) = &turn.answer else { continue };
        over_time += usize::from(answer.seconds > turn.question.limit_seconds);
        if answer.is_full() && !answer.ran_dry {
            well.push((!is_deeper(&turn.question), at));
        } else if !weak.contains(&turn.question.card) {
            weak.push(turn.question.card.clone());
        }
        for (point, mark) in answer.marks.iter().enumerate().filter(|(_, mark)| mark.earned < 0.5) {
            // A prompt that asks for the same point once more misses it once.
            if turn.question.asked.is_prompt() && repeats(sitting, at, &mark.say) {
                continue;
            }
            missed.push(MissedPoint {
                turn: at,
                say: mark.say.clone(),
                critical: mark.critical,
                prompted: recovered(sitting, at, point),
            });
        }
    }
    missed.sort_by_key(|point| (!point.is_fatal(), point.turn));
    well.sort_unstable();
    Debrief {
        verdict: verdict(sitting),
        missed,
        well: well.into_iter().map(|(_, at)| at).collect(),
        weak,
        seconds: sitting.seconds(),
        over_time,
    }
}

fn is_deeper(question: &Question) -> bool {
    matches!(question.asked, Asked::Deeper | Asked::WhatIf)
}
