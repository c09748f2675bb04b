//! The memory model: the caller of the `fsrs` crate for everything but training.
//!
//! FSRS-6 with 21 parameters. Whole study days are what counts; a second attempt on the same day takes the model's
//! same-day formula. The crate accepts bad input in silence (retention outside 0 to 1, negative times, a zero
//! state), so everything is brought into range here before it is called.

use fsrs::{FSRS, MemoryState};

use crate::domain::attempt::Attempt;
use crate::domain::day::{Instant, StudyDay};
use crate::domain::memory::CardMemory;
use crate::domain::outcome::Outcome;

/// A card missed this many times in a row is stubborn and gets a remedy.
pub const STUBBORN: u32 = 4;
/// The longest time between attempts, in days (ten years).
const LONGEST_DAYS: u32 = 3_650;

/// A memory model with its parameters and the recall target that it schedules for.
#[derive(Debug, Clone)]
pub struct Model {
    fsrs: FSRS,
    parameters: Vec<f32>,
    target: f32,
}

/// An answer as memory sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Review {
    /// When it was given.
    pub at: Instant,
    /// The study day it belongs to.
    pub day: StudyDay,
    /// What counts: the outcome with the learner's notch.
    pub outcome: Outcome,
    /// Time taken, in seconds.
    pub seconds: f64,
}

/// Parameters that are no parameters.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the memory model takes 21 finite parameters; these are not")]
pub struct ParametersError;

impl Model {
    /// The model with the published default parameters, for a recall target (0.70 to 0.99).
    pub fn standard(target: f64) -> Self {
        Self { fsrs: FSRS::default(), parameters: fsrs::DEFAULT_PARAMETERS.to_vec(), target: in_range(target) }
    }

    /// A model with a learner's own 21 parameters.
    ///
    /// # Errors
    /// Where the parameters are not 21 finite numbers.
    pub fn with_parameters(parameters: &[f32], target: f64) -> Result<Self, ParametersError> {
        if parameters.len() != 21 || parameters.iter().any(|p| !p.is_finite()) {
            return Err(ParametersError);
        }
        let fsrs = FSRS::new(parameters).map_err(|_| ParametersError)?;
        Ok(Self { fsrs, parameters: parameters.to_vec(), target: in_range(target) })
    }

    /// A model of the same memory for another recall target.
    pub fn for_target(&self, target: f64) -> Self {
        Self { target: in_range(target), ..self.clone() }
    }

    /// Names model, parameters and target: memory worked out under another stamp has to be worked out again.
    pub fn stamp(&self) -> String {
        let numbers: Vec<String> = self.parameters.iter().map(f32::to_string).collect();
        format!("fsrs-6 rules-1 target {} w {}", self.target, numbers.join(" "))
    }

    /// The recall target.
    pub fn target(&self) -> f64 {
        f64::from(self.target)
    }

    /// What is known of a card after one more attempt.
    pub fn after(&self, before: Option<&CardMemory>, attempt: &Attempt) -> CardMemory {
        let outcome = attempt.final_outcome();
        let review = Review { at: attempt.at, day: attempt.day(), outcome, seconds: attempt.seconds };
        self.after_review(before, &review)
    }

    /// What is known of a card after one more answer, kept or not.
    pub fn after_review(&self, before: Option<&CardMemory>, review: &Review) -> CardMemory {
        let outcome = review.outcome;
        // An attempt whose ship's date lies before the last one (clocks put back over the date line) counts as
        // made on the same day.
        let day = before.map_or(review.day, |b| review.day.max(b.last_day));
        let elapsed = before.map_or(0, |b| day.days_since(b.last_day));
        let state = self.state_after(before, outcome, elapsed);
        let missed = outcome == Outcome::Missed;
        let misses_in_a_row = if missed { before.map_or(0, |b| b.misses_in_a_row) + 1 } else { 0 };
        let known_before = before.is_some_and(|b| b.last != Outcome::Missed);
        let mut memory = CardMemory {
            stability: state.stability,
            difficulty: state.difficulty,
            last_day: day,
            last_at: before.map_or(review.at, |b| review.at.max(b.last_at)),
            due: day,
            seen: before.map_or(0, |b| b.seen) + 1,
            slips: before.map_or(0, |b| b.slips) + u32::from(missed && known_before),
            misses_in_a_row,
            last: outcome,
            seconds_total: before.map_or(0.0, |b| b.seconds_total) + review.seconds.clamp(0.0, 3_600.0),
        };
        memory.due = self.due(&memory);
        memory
    }

    /// The study day on which a card comes back. A missed card is still owed on its own day, so that a watch broken
    /// off takes it up again; a stubborn one that failed once more after its remedy rests until tomorrow.
    pub fn due(&self, memory: &CardMemory) -> StudyDay {
        match memory.last {
            Outcome::Missed if memory.misses_in_a_row <= STUBBORN => memory.last_day,
            Outcome::Missed => memory.last_day.plus(1),
            _ => memory.last_day.plus(self.interval_days(memory.stability)),
        }
    }

    /// Whole days after which recall has fallen to the target, 1 to 3,650.
    pub fn interval_days(&self, stability: f32) -> u32 {
        let raw = self.fsrs.next_interval(Some(stability.max(0.001)), self.target, 3);
        if raw.is_finite() { (raw.round().max(1.0) as u32).min(LONGEST_DAYS) } else { LONGEST_DAYS }
    }

    /// The chance of recall on a study day, 0 to 1 (1 on the day of the last attempt).
    pub fn recall(&self, memory: &CardMemory, on: StudyDay) -> f64 {
        self.recall_after(memory.stability, on.days_since(memory.last_day))
    }

    /// The chance of recall, but none for a card whose last answer was missed, whatever the model says of minutes later.
    pub fn known(&self, memory: &CardMemory, on: StudyDay) -> f64 {
        if memory.last == Outcome::Missed { 0.0 } else { self.recall(memory, on) }
    }

    /// The chance of recall this many days after an attempt that left this stability.
    pub fn recall_after(&self, stability: f32, days: u32) -> f64 {
        let state = MemoryState { stability: stability.max(0.001), difficulty: 5.0 };
        let decay = self.parameters.get(20).copied().unwrap_or(fsrs::FSRS6_DEFAULT_DECAY);
        let recall = f64::from(fsrs::current_retrievability(state, days as f32, decay));
        if recall.is_finite() { recall.clamp(0.0, 1.0) } else { 0.0 }
    }

    fn state_after(&self, before: Option<&CardMemory>, outcome: Outcome, elapsed: u32) -> MemoryState {
        let (stability, difficulty) = self.stepped(before.map(|b| (b.stability, b.difficulty)), outcome, elapsed);
        MemoryState { stability, difficulty }
    }

    /// Stability and difficulty after an outcome, from those before it (none for a card never met) and the whole days
    /// since.
    pub fn stepped(&self, before: Option<(f32, f32)>, outcome: Outcome, elapsed: u32) -> (f32, f32) {
        let state = before.map(|(stability, difficulty)| MemoryState {
            stability: stability.max(0.001),
            difficulty: difficulty.clamp(1.0, 10.0),
        });
        let after = match self.fsrs.next_states(state, self.target, elapsed.min(LONGEST_DAYS * 10)) {
            Ok(next) => match outcome {
                Outcome::Missed => next.again.memory,
                Outcome::Prompted => next.hard.memory,
                Outcome::Answered => next.good.memory,
                Outcome::Fluent => next.easy.memory,
            },
            // Only non-finite parameters make the call fail, and those are refused at the door.
            Err(_) => state.unwrap_or(MemoryState { stability: 0.001, difficulty: 5.0 }),
        };
        (after.stability, after.difficulty)
    }
}

fn in_range(target: f64) -> f32 {
    if target.is_finite() { target.clamp(0.70, 0.99) as f32 } else { 0.90 }
}
