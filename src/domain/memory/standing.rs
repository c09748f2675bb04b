//! Where a card stands with a learner, in words.

use crate::domain::attempt::{SetAside, Until};
use crate::domain::day::StudyDay;
use crate::domain::memory::CardMemory;
use crate::domain::outcome::Outcome;

/// A card holds once its stability has reached this many days.
const HOLDING_DAYS: f32 = 21.0;

/// Where a card stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// Never attempted.
    Unseen,
    /// Known, but not yet for long.
    WorkingUp,
    /// Known for three weeks or more.
    Holding,
    /// The last attempt was missed.
    Slipped,
}

impl Standing {
    /// From what is known of the card.
    pub fn of(memory: Option<&CardMemory>) -> Self {
        match memory {
            None => Standing::Unseen,
            Some(m) if m.last == Outcome::Missed => Standing::Slipped,
            Some(m) if m.stability >= HOLDING_DAYS => Standing::Holding,
            Some(_) => Standing::WorkingUp,
        }
    }

    /// The word for people.
    pub fn word(self) -> &'static str {
        match self {
            Standing::Unseen => "not yet asked",
            Standing::WorkingUp => "settling",
            Standing::Holding => "known",
            Standing::Slipped => "forgotten",
        }
    }
}

/// Whether a card is out of the watch on a day, from its last set-aside event.
pub fn is_aside(last: Option<&SetAside>, today: StudyDay) -> bool {
    match last.map(|event| event.until) {
        None | Some(Until::Back) => false,
        Some(Until::ForGood) => true,
        Some(Until::Day(day)) => today < day,
    }
}
