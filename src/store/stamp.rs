//! Times in file names: `2026-11-25-130328Z`, UTC to the second, so that names sort as the times do.

use crate::domain::day::Instant;

const SECONDS_PER_DAY: i64 = 86_400;
/// 9999-12-31T23:59:59Z; names hold four digits for the year.
const LAST: i64 = 253_402_300_799;

/// The name's part for an instant; instants out of 1970 to 9999 are brought into it.
pub(super) fn stamp(at: Instant) -> String {
    let seconds = at.0.div_euclid(1000).clamp(0, LAST);
    let (year, month, day) = date_of(seconds / SECONDS_PER_DAY);
    let second = seconds % SECONDS_PER_DAY;
    format!("{year:04}-{month:02}-{day:02}-{:02}{:02}{:02}Z", second / 3600, second / 60 % 60, second % 60)
}

/// The instant that a stamp names; `None` where the text is no stamp.
pub(super) fn parse(text: &str) -> Option<Instant> {
    let bytes = text.as_bytes();
    if bytes.len() != 18 || !text.is_ascii() || [4, 7, 10].iter().any(|i| bytes[*i] != b'-') || bytes[17] != b'Z' {
        return None;
    }
    let number = |from: usize, to: usize| {
        let digits = &text[from..to];
        digits.bytes().all(|b| b.is_ascii_digit()).then(|| digits.parse::<i64>().ok()).flatten()
    };
    let days = days_of(number(0, 4)?, number(5, 7)?, number(8, 10)?);
    let seconds = days * SECONDS_PER_DAY + number(11, 13)? * 3600 + number(13, 15)? * 60 + number(15, 17)?;
    let at = Instant(seconds * 1000);
    (stamp(at) == text).then_some(at)
}

/// Year, month and day of a day counted from 1970-01-01, in the proleptic Gregorian calendar. Counts from
/// March, so that the leap day is a year's last.
fn date_of(days: i64) -> (i64, i64, i64) {
    let from_march_0000 = days + 719_468;
    let era = from_march_0000.div_euclid(146_097);
    let day_of_era = from_march_0000.rem_euclid(146_097);
    let year_of_era = (day_of_era - day_of_era / 1460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
    let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let march_month = (5 * day_of_year + 2) / 153;
    let day = day_of_year - (153 * march_month + 2) / 5 + 1;
    let month = if march_month < 10 { march_month + 3 } else { march_month - 9 };
    (era * 400 + year_of_era + i64::from(month <= 2), month, day)
}

/// The other way round.
fn days_of(year: i64, month: i64, day: i64) -> i64 {
    let year = year - i64::from(month <= 2);
    let era = year.div_euclid(400);
    let year_of_era = year.rem_euclid(400);
    let march_month = (month + 9) % 12;
    let day_of_year = (153 * march_month + 2) / 5 + day - 1;
    era * 146_097 + year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year - 719_468
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Seconds as `date -u -d @SECONDS` gives them (GNU coreutils).
    #[test]
    fn stamps_agree_with_the_calendar() {
        let known = [
            (0, "1970-01-01-000000Z"),
            (951_782_399, "2000-02-28-235959Z"),
            (951_782_400, "2000-02-29-000000Z"),
            (1_709_210_096, "2024-02-29-123456Z"),
            (1_795_593_600, "2026-11-25-080000Z"),
            (4_107_542_400, "2100-03-01-000000Z"),
            (LAST, "9999-12-31-235959Z"),
        ];
        for (seconds, text) in known {
            assert_eq!(stamp(Instant(seconds * 1000 + 999)), text);
            assert_eq!(parse(text), Some(Instant(seconds * 1000)));
        }
        assert_eq!(stamp(Instant(i64::MIN)), "1970-01-01-000000Z");
        assert_eq!(stamp(Instant(i64::MAX)), "9999-12-31-235959Z");
        for wrong in ["", "2026-13-01-000000Z", "2026-02-30-000000Z", "2026-11-25-240000Z", "2026-11-25-08000éZ"] {
            assert_eq!(parse(wrong), None, "{wrong}");
        }
        for day in (0..2_932_896).step_by(97) {
            let (y, m, d) = date_of(day);
            assert_eq!(days_of(y, m, d), day);
        }
    }
}
