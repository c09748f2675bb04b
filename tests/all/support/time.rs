//! The day of most tests: Wednesday 25 November 2026 (`date -d 2026-11-25 +%s` over 86,400).

use bedplate::domain::day::StudyDay;

/// That day.
pub const TODAY: StudyDay = StudyDay(20_782);
/// A day in milliseconds.
pub const DAY_MS: i64 = 86_400_000;
/// Its 08:00 in UTC, in milliseconds.
pub const MORNING: i64 = TODAY.0 as i64 * DAY_MS + 8 * 3_600_000;
