//! Numbers, counts, dates and times in words: plain British English, said the same way everywhere.

use jiff::civil::{Date, Weekday};

use crate::domain::day::{Instant, ShipOffset, StudyDay};
use crate::domain::english::cardinal;
use crate::domain::quantity::Within;

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// A number in words up to 99 (`no`, `six`, `forty-one`), in digits from 100.
pub fn number(n: usize) -> String {
    if n == 0 { "no".to_owned() } else { cardinal(n).unwrap_or_else(|| figure(n)) }
}

/// A number in digits: four unspaced, a thin space between thousands from 10 000.
pub fn figure(n: usize) -> String {
    let digits = n.to_string();
    if digits.len() < 5 {
        return digits;
    }
    let head = digits.len() % 3;
    let mut out = digits[..head].to_owned();
    for group in digits.as_bytes()[head..].chunks(3) {
        if !out.is_empty() {
            out.push('\u{2009}');
        }
        out.extend(group.iter().map(|b| char::from(*b)));
    }
    out
}

/// A learner's name; `not named` where none was given.
pub fn named(name: &str) -> &str {
    if name.trim().is_empty() { "not named" } else { name }
}

/// A count with its noun: `1 card`, `46 cards`. The plural takes an `s`.
pub fn count(n: usize, noun: &str) -> String {
    format!("{} {noun}{}", figure(n), if n == 1 { "" } else { "s" })
}

/// A count in words with its noun: `one card`, `forty cards`.
pub fn count_in_words(n: usize, noun: &str) -> String {
    format!("{} {noun}{}", number(n), if n == 1 { "" } else { "s" })
}

/// Seconds as a clock shows them: `0:38`, `12:05`.
pub fn clock(seconds: u32) -> String {
    format!("{}:{:02}", seconds / 60, seconds % 60)
}

/// Seconds as a sentence names them: `38 s`, `2 min 5 s`, `1 min`.
pub fn duration(seconds: f64) -> String {
    let whole = if seconds.is_finite() { seconds.clamp(0.0, 359_999.0).round() as u32 } else { 0 };
    match (whole / 60, whole % 60) {
        (0, s) => format!("{s} s"),
        (m, 0) => format!("{m} min"),
        (m, s) => format!("{m} min {s} s"),
    }
}

/// A figure with the signs that a deck writes plainly: `45 cm2` becomes `45 cm²`, `1.2 m3/h` `1.2 m³/h`,
/// `25 degC` `25 °C`.
pub fn signs(figure: &str) -> String {
    let mut out = String::new();
    let mut chars = figure.chars().peekable();
    while let Some(c) = chars.next() {
        let after_letter = out.chars().last().is_some_and(char::is_alphabetic);
        let ends = chars.peek().is_none_or(|n| !n.is_alphanumeric() && *n != '.');
        match c {
            '2' if after_letter && ends => out.push('²'),
            '3' if after_letter && ends => out.push('³'),
            _ => out.push(c),
        }
    }
    out.replace("degC", "°C")
}

/// Markdown without its marks, on one line.
pub fn plain(markdown: &str) -> String {
    markdown.replace(['*', '`', '#'], "").split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A tolerance in words; empty where it is exact.
pub fn within(within: &Within) -> String {
    match within {
        Within::Exact => String::new(),
        Within::Absolute(q) => format!("within {} {}", trimmed(q.number), q.unit).trim_end().to_owned(),
        Within::Relative(share) => format!("within {} %", trimmed(share * 100.0)),
    }
}

fn trimmed(number: f64) -> String {
    let text = format!("{number:.6}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// When a card comes next: `today`, `tomorrow`, `in 9 days`.
pub fn in_days(days: u32) -> String {
    match days {
        0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        n => format!("in {} days", figure(n as usize)),
    }
}

/// Ship's time, `20:42`.
pub fn time_of_day(now: Instant, ship: ShipOffset) -> String {
    let minutes = (now.0.div_euclid(60_000) + i64::from(ship.minutes())).rem_euclid(24 * 60);
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}

/// A day with its weekday: `Wednesday 25 November`.
pub fn day(day: StudyDay) -> String {
    date(day).map_or_else(String::new, |d| {
        format!("{} {} {}", weekday_word(d.weekday()), d.day(), MONTHS[d.month() as usize - 1])
    })
}

/// A day with its year: `21 April 2026`.
pub fn full_date(day: StudyDay) -> String {
    date(day).map_or_else(String::new, |d| format!("{} {} {}", d.day(), MONTHS[d.month() as usize - 1], d.year()))
}

/// The weekday of a day: `Tuesday`.
pub fn weekday(day: StudyDay) -> &'static str {
    date(day).map_or("", |d| weekday_word(d.weekday()))
}

/// How far a day is: `today`, `41 days from today`, `3 days ago`.
pub fn from_today(day: StudyDay, today: StudyDay) -> String {
    match i64::from(day.0) - i64::from(today.0) {
        0 => "today".to_owned(),
        n if n > 0 => format!("{} from today", count(n as usize, "day")),
        n => format!("{} ago", count(n.unsigned_abs() as usize, "day")),
    }
}

/// `Oral in 41 days`, `Oral tomorrow`, `Oral today`, `Oral was 3 days ago`.
pub fn oral_line(oral: StudyDay, today: StudyDay) -> String {
    match i64::from(oral.0) - i64::from(today.0) {
        0 => "Oral today".to_owned(),
        1 => "Oral tomorrow".to_owned(),
        n if n > 0 => format!("Oral in {}", count(n as usize, "day")),
        n => format!("Oral was {} ago", count(n.unsigned_abs() as usize, "day")),
    }
}

/// Reads a date as people type it: `21 April 2026`, `21 apr 2026`, `2026-04-21`, `21.4.2026`, `21/04/2026`
/// (the day comes before the month). Without a year it is the next such day from `today` on.
pub fn read_date(text: &str, today: StudyDay) -> Option<StudyDay> {
    let parts: Vec<&str> =
        text.split(|c: char| c.is_whitespace() || "-./,".contains(c)).filter(|p| !p.is_empty()).collect();
    let date = match parts.as_slice() {
        [y, m, d] if is_year(y) => Date::new(y.parse().ok()?, month(m)?, d.parse().ok()?).ok()?,
        [d, m, y] if is_year(y) => Date::new(y.parse().ok()?, month(m)?, day_number(d)?).ok()?,
        [d, m] => {
            let this_year = date(today)?.year();
            let (d, m) = (day_number(d)?, month(m)?);
            let in_year = |year: i16| Date::new(year, m, d).ok().and_then(study_day);
            (this_year..=this_year + 8).filter_map(in_year).find(|day| *day >= today).and_then(self::date)?
        }
        _ => return None,
    };
    study_day(date)
}

fn is_year(text: &str) -> bool {
    text.len() == 4 && text.bytes().all(|b| b.is_ascii_digit())
}

fn day_number(text: &str) -> Option<i8> {
    text.trim_end_matches(|c: char| c.is_ascii_alphabetic()).parse().ok()
}

fn month(text: &str) -> Option<i8> {
    if let Ok(number) = text.parse::<i8>() {
        return (1..=12).contains(&number).then_some(number);
    }
    let low = text.to_lowercase();
    let at = MONTHS.iter().position(|m| low.len() >= 3 && m.to_lowercase().starts_with(&low))?;
    i8::try_from(at + 1).ok()
}

fn date(day: StudyDay) -> Option<Date> {
    Date::new(1970, 1, 1).ok()?.checked_add(jiff::Span::new().try_days(i64::from(day.0)).ok()?).ok()
}

fn study_day(date: Date) -> Option<StudyDay> {
    let days = date.since(Date::new(1970, 1, 1).ok()?).ok()?.get_days();
    Some(StudyDay(days))
}

fn weekday_word(day: Weekday) -> &'static str {
    match day {
        Weekday::Monday => "Monday",
        Weekday::Tuesday => "Tuesday",
        Weekday::Wednesday => "Wednesday",
        Weekday::Thursday => "Thursday",
        Weekday::Friday => "Friday",
        Weekday::Saturday => "Saturday",
        Weekday::Sunday => "Sunday",
    }
}
