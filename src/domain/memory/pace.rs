//! How long a learner takes for a card of each kind, measured from the attempts.

use crate::domain::kinds::Kind;

/// Attempts' worth of belief in the figure one starts from.
const PRIOR_ATTEMPTS: f64 = 10.0;

/// Measured seconds for each kind.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Pace {
    /// By the kind's place.
    measured: [Measured; Kind::COUNT],
}

#[derive(Debug, Clone, Copy, PartialEq, Default)]
struct Measured {
    attempts: f64,
    seconds: f64,
}

impl Pace {
    /// Adds attempts of a kind that took so many seconds together.
    pub fn add(&mut self, kind: Kind, attempts: u32, seconds: f64) {
        if seconds.is_finite() && seconds >= 0.0 {
            let measured = &mut self.measured[kind.place()];
            measured.attempts += f64::from(attempts);
            measured.seconds += seconds;
        }
    }

    /// Seconds that the next card of this kind is likely to take: the mean of those measured, drawn towards a
    /// first guess while there are few.
    pub fn seconds(&self, kind: Kind) -> f64 {
        let measured = self.measured[kind.place()];
        let guess = kind.facts().first_seconds;
        (measured.seconds + PRIOR_ATTEMPTS * guess) / (measured.attempts + PRIOR_ATTEMPTS)
    }
}
