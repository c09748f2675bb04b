//! How long a learner takes for a card of each kind, measured from the attempts.

use crate::domain::card::Kind;

/// Attempts' worth of belief in the figure one starts from.
const PRIOR_ATTEMPTS: f64 = 10.0;

/// Measured seconds for each kind.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Pace {
    recall: Measured,
    figure: Measured,
    why: Measured,
    sequence: Measured,
    lineup: Measured,
    working: Measured,
    point: Measured,
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
            let measured = self.of_mut(kind);
            measured.attempts += f64::from(attempts);
            measured.seconds += seconds;
        }
    }

    /// Seconds that the next card of this kind is likely to take: the mean of those measured, drawn towards a
    /// first guess while there are few.
    pub fn seconds(&self, kind: Kind) -> f64 {
        let measured = self.of(kind);
        let guess = first_guess(kind);
        (measured.seconds + PRIOR_ATTEMPTS * guess) / (measured.attempts + PRIOR_ATTEMPTS)
    }

    fn of(&self, kind: Kind) -> &Measured {
        match kind {
            Kind::Recall => &self.recall,
            Kind::Figure => &self.figure,
            Kind::Why => &self.why,
            Kind::Sequence => &self.sequence,
            Kind::Lineup => &self.lineup,
            Kind::Working => &self.working,
            Kind::Point => &self.point,
        }
    }

    fn of_mut(&mut self, kind: Kind) -> &mut Measured {
        match kind {
            Kind::Recall => &mut self.recall,
            Kind::Figure => &mut self.figure,
            Kind::Why => &mut self.why,
            Kind::Sequence => &mut self.sequence,
            Kind::Lineup => &mut self.lineup,
            Kind::Working => &mut self.working,
            Kind::Point => &mut self.point,
        }
    }
}

/// Seconds, reading and marking included, before anything is measured.
fn first_guess(kind: Kind) -> f64 {
    match kind {
        Kind::Recall => 45.0,
        Kind::Figure => 15.0,
        Kind::Why => 50.0,
        Kind::Sequence => 120.0,
        Kind::Lineup => 90.0,
        Kind::Working => 240.0,
        Kind::Point => 15.0,
    }
}
