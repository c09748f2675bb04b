//! What is known of the computer's clock, and the question that stands where it cannot be right.
//!
//! The rule is [`doubt`](crate::domain::clock::doubt); the question is put and answered in `handle/clock.rs`.

use crate::app::program::setup::Clock;
use crate::domain::attempt::Attempt;
use crate::domain::clock::{Doubt, Look};
use crate::domain::day::Instant;

/// What is known of the clock.
#[derive(Clone, Default)]
pub(in crate::app) struct Timekeeper {
    /// A count that goes on evenly and that nobody can set.
    pub(in crate::app) steady: Option<Clock>,
    /// The time was given, or nothing is kept by it.
    pub(in crate::app) given: bool,
    /// The last look at which it was found good.
    pub(in crate::app) trusted: Option<Look>,
    pub(in crate::app) standing: Option<Standing>,
    /// Where the clock stood when the question came, as far as it was good until then.
    pub(in crate::app) since: Option<Instant>,
}

/// The question about the clock.
#[derive(Clone, PartialEq)]
pub(in crate::app) enum Standing {
    /// Is it right?
    Asked(Doubt),
    /// The learner goes to set it.
    Setting(Doubt),
    /// The clock is right; these are dated after it.
    Later(Vec<Attempt>),
}

impl Timekeeper {
    /// The question stands.
    pub(in crate::app) fn asks(&self) -> bool {
        self.standing.is_some()
    }

    /// No question, for a program that starts anew with another profile.
    pub(in crate::app) fn anew(&self) -> Self {
        Self { standing: None, ..self.clone() }
    }
}
