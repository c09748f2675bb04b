//! Planning to the day of the oral: what is studied on each day so that recall peaks on it.
//!
//! Unseen cards come first and are all introduced by a day; until a last window cards come back at a steady target; in
//! the window every card is seen once more, durable ones first and fragile ones nearest the day, and what time is left
//! goes where it gains most. The target is the model's, which is the learner's own. Which day and window suit this learner is found by simulation ([`choose`]); the
//! same policy ([`todays`]) makes each day's watch.

mod choose;
mod policy;
mod simulate;

pub use choose::{Chosen, choose, simple_rule};
pub use policy::{Pick, todays};
pub use simulate::{Ability, Forecast, Habits, Look, play, simulate, simulate_as};

use serde::{Deserialize, Serialize};

use crate::domain::day::StudyDay;
use crate::domain::memory::CardMemory;
use crate::domain::outcome::Outcome;

/// A plan to the day of an oral.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Plan {
    /// The oral. It is studied up to the day before.
    pub exam: StudyDay,
    /// By this day every card has been met.
    pub introduce_by: StudyDay,
    /// The window's days, the last before the oral; 0 for none.
    pub window_days: u32,
    /// The order in the window.
    pub window: WindowOrder,
}

/// The order of cards in the last window.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum WindowOrder {
    /// Every card once, what lasts longest first.
    DurableFirst,
    /// What gains most in a second.
    GainFirst,
}

/// A card as the plan sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlanCard {
    /// Importance, 1 to 3.
    pub weight: u8,
    /// Seconds that an answer is likely to take.
    pub seconds: f64,
    /// Among unseen cards, the lowest comes first.
    pub rank: u32,
    /// What is known of it; none for an unseen card.
    pub trace: Option<Trace>,
}

/// What is known of a card that has been met.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trace {
    /// The memory model's stability, in days.
    pub stability: f32,
    /// The memory model's difficulty, 1 to 10.
    pub difficulty: f32,
    /// The study day of the last attempt.
    pub last_day: StudyDay,
    /// The last attempt was missed.
    pub missed: bool,
    /// Whether the card was met for the first time on its last day.
    pub new: bool,
}

impl Trace {
    /// From a card's memory. It counts as new on a day when it has been attempted on that day alone, which is taken
    /// from the number of attempts where they are few.
    pub fn of(memory: &CardMemory, first_day: Option<StudyDay>) -> Self {
        Self {
            stability: memory.stability,
            difficulty: memory.difficulty,
            last_day: memory.last_day,
            missed: memory.last == Outcome::Missed,
            new: first_day.map_or(memory.seen == 1, |day| day == memory.last_day),
        }
    }
}
