//! Instants, ship's time and study days.
//!
//! An instant is UTC milliseconds since 1970-01-01. Ship's time is an offset that the learner sets as the
//! ship's clocks move. A study day ends at 04:00 ship's time. Only whole days count for memory.

use serde::{Deserialize, Serialize};

/// UTC milliseconds since 1970-01-01T00:00Z.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Instant(pub i64);

/// Ship's time: minutes east of UTC, -720 to 840.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct ShipOffset(i32);

/// A study day: days since 1970-01-01 of the ship's date on which it began (at 04:00).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct StudyDay(pub i32);

/// The hour of ship's time at which a study day begins.
pub const DAY_BEGINS_HOUR: i64 = 4;
const MS_PER_MINUTE: i64 = 60_000;
/// Milliseconds of a day.
pub const MS_PER_DAY: i64 = 86_400_000;

impl ShipOffset {
    /// UTC-12:00, the westernmost.
    pub const WEST: i32 = -720;
    /// UTC+14:00, the easternmost.
    pub const EAST: i32 = 840;

    /// An offset in minutes east of UTC; `None` outside -720 to 840.
    pub fn from_minutes(minutes: i32) -> Option<Self> {
        (Self::WEST..=Self::EAST).contains(&minutes).then_some(Self(minutes))
    }

    /// Minutes east of UTC.
    pub fn minutes(self) -> i32 {
        self.0
    }

    /// `UTC+3`, `UTC-9:30`, `UTC`.
    pub fn label(self) -> String {
        let (hours, minutes) = (self.0.abs() / 60, self.0.abs() % 60);
        match (self.0, minutes) {
            (0, _) => "UTC".to_owned(),
            (m, 0) => format!("UTC{}{hours}", if m < 0 { '−' } else { '+' }),
            (m, _) => format!("UTC{}{hours}:{minutes:02}", if m < 0 { '−' } else { '+' }),
        }
    }
}

impl Instant {
    /// The study day on which this instant falls by ship's time.
    pub fn study_day(self, ship: ShipOffset) -> StudyDay {
        let local = self.0.saturating_add(i64::from(ship.0) * MS_PER_MINUTE);
        let day = (local - DAY_BEGINS_HOUR * 60 * MS_PER_MINUTE).div_euclid(MS_PER_DAY);
        StudyDay(i32::try_from(day).unwrap_or(if day < 0 { i32::MIN } else { i32::MAX }))
    }
}

impl StudyDay {
    /// The instant at which this study day begins by ship's time.
    pub fn begins(self, ship: ShipOffset) -> Instant {
        let local = i64::from(self.0) * MS_PER_DAY + DAY_BEGINS_HOUR * 60 * MS_PER_MINUTE;
        Instant(local - i64::from(ship.0) * MS_PER_MINUTE)
    }

    /// Whole days from `earlier` to this day, never below zero (clocks put back do not make memory younger).
    pub fn days_since(self, earlier: StudyDay) -> u32 {
        u32::try_from(i64::from(self.0) - i64::from(earlier.0)).unwrap_or(0)
    }

    /// This many days later.
    pub fn plus(self, days: u32) -> StudyDay {
        StudyDay(i32::try_from(i64::from(self.0) + i64::from(days)).unwrap_or(i32::MAX))
    }
}
