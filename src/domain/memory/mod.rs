//! Memory: what a learner is likely to recall, when a card comes back and what comes next today.

pub mod model;
pub mod order;
pub mod pace;
pub mod plan;
pub mod replay;
pub mod standing;
pub mod train;
pub mod watch;

use serde::{Deserialize, Serialize};

use crate::domain::day::{Instant, StudyDay};
use crate::domain::outcome::Outcome;

/// What the program knows of one card with one learner. Worked out from the attempts alone, so that it can be
/// thrown away and rebuilt.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct CardMemory {
    /// The memory model's stability, in days.
    pub stability: f32,
    /// The memory model's difficulty, 1 to 10.
    pub difficulty: f32,
    /// The study day of the last attempt.
    pub last_day: StudyDay,
    /// The last attempt's instant.
    pub last_at: Instant,
    /// The study day on which it comes back.
    pub due: StudyDay,
    /// Attempts so far.
    pub seen: u32,
    /// Attempts so far that were missed after it had once been known.
    pub slips: u32,
    /// Missed this many times in a row, up to now.
    pub misses_in_a_row: u32,
    /// The last attempt's outcome, the notch included.
    pub last: Outcome,
    /// Seconds over all attempts.
    pub seconds_total: f64,
}
