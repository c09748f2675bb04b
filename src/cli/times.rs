//! Times and dates as they stand in JSON.

use jiff::civil::Date;

use crate::domain::day::{Instant, StudyDay};

/// An instant as RFC 3339 in UTC.
pub(super) fn time(at: Instant) -> String {
    jiff::Timestamp::from_millisecond(at.0).map_or_else(|_| at.0.to_string(), |at| at.to_string())
}

/// A day as `2026-12-24`.
pub(super) fn date(day: StudyDay) -> String {
    let from = Date::constant(1970, 1, 1);
    from.checked_add(jiff::Span::new().days(i64::from(day.0)))
        .map_or_else(|_| day.0.to_string(), |date| date.to_string())
}
