//! Quantities in typed text, as learners write them: "30bar", "4,320 kW", "forty-five seconds", "10-12 bar",
//! "1 h 30 min", "-18 C", "half an hour". Nothing here fails: what cannot be read is left out.

pub(super) mod chars;
pub(super) mod number;
mod units;

use std::ops::Range;

use super::{Dimension, Unit};
use chars::Chars;
pub use units::ReadUnit;

/// A quantity found in a text.
#[derive(Debug, Clone, PartialEq)]
pub struct Typed {
    /// The number, or the lower end of a range, in the unit.
    pub low: f64,
    /// The upper end of a range; equal to `low` for one number.
    pub high: f64,
    /// The unit behind it.
    pub unit: ReadUnit,
    /// Where it stands in the text, in bytes.
    pub span: Range<usize>,
    /// Whether the quantity is offered as another choice: "10 or 20 bar".
    pub or: bool,
    /// Whether the quantity stands behind "not", as in "not 20 bar but 30 bar".
    pub denied: bool,
    /// Read from "a minute" or "one of them": no number was written in figures.
    pub in_words: bool,
}

/// Finds every quantity in a text, in its order. `like` is what is asked for: among several readings of a unit
/// the one of that dimension is taken, and case is forgiven. Takes time in proportion to the text.
pub fn scan(text: &str, like: Option<&Dimension>) -> Vec<Typed> {
    let chars = Chars::new(text);
    let mut found: Vec<Typed> = Vec::new();
    let mut i = 0;
    while i < chars.chars.len() {
        match quantity_at(&chars, i, like) {
            Some((typed, end)) => {
                i = end.max(i + 1);
                found.push(typed);
            }
            None => i = next_start(&chars, i),
        }
    }
    share_units(&mut found);
    join_parts(found, text)
}

/// The next character at which a number may begin.
fn next_start(text: &Chars, i: usize) -> usize {
    let c = text.get(i);
    if c.is_some_and(|c| c.is_alphanumeric()) {
        // The whole run: the 60 of "A60" is no number of its own.
        let mut end = i;
        while text.get(end).is_some_and(|c| c.is_alphanumeric())
            || (text.is_digit(end + 1) && end > i && matches!(text.get(end), Some('.' | ',')) && text.is_digit(end - 1))
        {
            end += 1;
        }
        return end;
    }
    i + 1
}

struct Number {
    value: f64,
    end: usize,
    in_words: bool,
}

fn number_at(text: &Chars, i: usize) -> Option<Number> {
    if text.is_digit(i) || (text.get(i) == Some('.') && text.is_digit(i + 1)) {
        let (value, end) = number::figures(text, i)?;
        return Some(Number { value, end, in_words: false });
    }
    text.is_letter(i).then(|| number::words(text, i))?.map(|(value, end)| Number { value, end, in_words: true })
}

/// A quantity that begins at `i` (its sign included), with the character after it.
fn quantity_at(text: &Chars, i: usize, like: Option<&Dimension>) -> Option<(Typed, usize)> {
    let before = i.checked_sub(1).and_then(|b| text.get(b));
    if before.is_some_and(|c| c.is_alphanumeric() || c == '^') {
        return None;
    }
    if like.is_some_and(Dimension::is_none)
        && let Some((typed, end)) = acidity_at(text, i, like)
    {
        return Some((typed, end));
    }
    number_with_unit(text, i, before, like)
}

/// "pH 6.5", "a pH of 6.5", "pH: 6.5": the one unit that people say before its number.
fn acidity_at(text: &Chars, i: usize, like: Option<&Dimension>) -> Option<(Typed, usize)> {
    let (word, mut at) = text.word(i);
    if word != "ph" {
        return None;
    }
    loop {
        at = text.skip_spaces(at);
        let (word, after) = text.word(at);
        match text.get(at) {
            Some(':' | '=') => at += 1,
            _ if PH_LINKS.contains(&word.as_str()) => at = after,
            _ => break,
        }
    }
    let (mut typed, end) = number_with_unit(text, at, None, like)?;
    if !matches!(typed.unit, ReadUnit::Known(_)) {
        typed.unit = ReadUnit::Known(Unit::parse("pH").ok()?);
    }
    let (or, denied) = led_by(text, i);
    (typed.or, typed.denied, typed.span.start) = (or, typed.denied || denied, text.place(i));
    Some((typed, end))
}

/// Words between "pH" and its number.
const PH_LINKS: &[&str] =
    &["a", "about", "at", "around", "between", "from", "is", "least", "of", "should", "be", "value"];

fn number_with_unit(text: &Chars, i: usize, before: Option<char>, like: Option<&Dimension>) -> Option<(Typed, usize)> {
    let (sign, start) = sign_at(text, i, before);
    let first = number_at(text, start).or_else(|| one_of(text, start, like))?;
    let low = sign * first.value;
    let mut high = low;
    let (mut unit, mut end) = units::unit_at(text, first.end, like);
    if let Some((tolerance_end, after_unit)) = plus_minus(text, first.end) {
        (unit, end) = if after_unit { units::unit_at(text, tolerance_end, like) } else { (unit, tolerance_end) };
    }
    let range_from = if matches!(unit, ReadUnit::Known(_)) { end } else { first.end };
    if let Some((other, after)) = range_end(text, range_from, i) {
        let (other_unit, other_end) = units::unit_at(text, after, like);
        if !matches!(unit, ReadUnit::Known(_)) {
            unit = other_unit;
        }
        (high, end) = (sign_of(low, other) * other, other_end);
    }
    if let (ReadUnit::Known(_), Some((half, after))) = (&unit, number::and_a_half(text, end)) {
        (high, end) = (high + half, after);
        return Some((typed(text, low + half, high, unit, i, end, first.in_words), end));
    }
    Some((typed(text, low, high, unit, i, end, first.in_words), end))
}

fn typed(text: &Chars, low: f64, high: f64, unit: ReadUnit, start: usize, end: usize, in_words: bool) -> Typed {
    let (or, denied) = led_by(text, start);
    let mut stop = end;
    while stop > start && text.get(stop - 1) == Some(' ') {
        stop -= 1;
    }
    let span = text.place(start)..text.place(stop);
    Typed { low: low.min(high), high: low.max(high), unit, span, or, denied, in_words }
}

/// In a range below zero, as "-10 to 5", the second number has its own sign.
fn sign_of(low: f64, other: f64) -> f64 {
    if low < 0.0 && other > 0.0 && other < low.abs() { -1.0 } else { 1.0 }
}

fn sign_at(text: &Chars, i: usize, before: Option<char>) -> (f64, usize) {
    let glued = before.is_some_and(|c| c.is_alphanumeric() || c == ')');
    match text.get(i) {
        Some('-') if !glued && (text.is_digit(text.skip_spaces(i + 1)) || text.get(i + 1) == Some('.')) => {
            (-1.0, text.skip_spaces(i + 1))
        }
        Some('+') if !glued && text.is_digit(i + 1) => (1.0, i + 1),
        Some('m' | 'M') if text.word(i).0 == "minus" => (-1.0, text.skip_spaces(i + 5)),
        _ => (1.0, i),
    }
}

/// "a minute", "an hour": one of a unit of what is asked for.
fn one_of(text: &Chars, i: usize, like: Option<&Dimension>) -> Option<Number> {
    let like = like?;
    let (word, end) = text.word(i);
    if !matches!(word.as_str(), "a" | "an") {
        return None;
    }
    match units::unit_at(text, end, Some(like)) {
        (ReadUnit::Known(unit), stop) if unit.dimension == *like && stop > end + 3 => {
            Some(Number { value: 1.0, end, in_words: true })
        }
        _ => None,
    }
}

/// "± 1" behind a number: where it ends, and whether the unit stands behind it.
fn plus_minus(text: &Chars, end: usize) -> Option<(usize, bool)> {
    let at = text.skip_spaces(end);
    let at = if text.get(at) == Some('±') {
        at + 1
    } else if text.has(at, "+/-") || text.has(at, "+-") {
        at + if text.has(at, "+/-") { 3 } else { 2 }
    } else {
        return None;
    };
    let (_, after) = number::figures(text, text.skip_spaces(at))?;
    Some((after, true))
}

/// The second number of a range: "10-12", "10 to 12", "between 10 and 12".
fn range_end(text: &Chars, end: usize, start: usize) -> Option<(f64, usize)> {
    let at = text.skip_spaces(end);
    let (word, after) = text.word(at);
    let next = if text.get(at) == Some('-') {
        at + 1
    } else if matches!(word.as_str(), "to" | "till") || (word == "and" && word_before(text, start).0 == "between") {
        after
    } else if text.has(at, "...") || text.has(at, "..") {
        at + if text.has(at, "...") { 3 } else { 2 }
    } else {
        return None;
    };
    let number = number_at(text, text.skip_spaces(next))?;
    Some((number.value, number.end))
}

/// Whether "or" or "not" leads to the number at `i`.
fn led_by(text: &Chars, i: usize) -> (bool, bool) {
    let (word, start) = word_before(text, i);
    let slash = i > 0 && text.get(i - 1) == Some('/');
    let denied = word == "not" || (word == "than" && word_before(text, start).0 == "rather");
    (word == "or" || slash, denied)
}

/// The word before the character `i` in lower case, with its start.
fn word_before(text: &Chars, i: usize) -> (String, usize) {
    let mut end = i;
    while end > 0 && text.get(end - 1) == Some(' ') {
        end -= 1;
    }
    let mut start = end;
    while start > 0 && text.is_letter(start - 1) {
        start -= 1;
    }
    (text.chars[start..end].iter().flat_map(|c| c.to_lowercase()).collect(), start)
}

/// "10 or 12 bar": a bare number takes the unit of the choice behind it.
fn share_units(found: &mut [Typed]) {
    for at in (1..found.len()).rev() {
        if found[at].or && found[at - 1].unit == ReadUnit::None {
            found[at - 1].unit = found[at].unit.clone();
        }
    }
}

/// "1 h 30 min", "6 ft 2 in", "1 hour and 30 minutes": parts of one quantity are added.
fn join_parts(found: Vec<Typed>, text: &str) -> Vec<Typed> {
    let mut out: Vec<Typed> = Vec::new();
    for next in found {
        let joined = out.last_mut().is_some_and(|last| {
            let between = text.get(last.span.end..next.span.start).unwrap_or("x").trim();
            match (&last.unit, &next.unit) {
                (ReadUnit::Known(big), ReadUnit::Known(small)) if between.is_empty() || between == "and" => {
                    add_part(last.low, last.high, big, &next, small).is_some_and(|(low, high)| {
                        (last.low, last.high, last.span.end) = (low, high, next.span.end);
                        true
                    })
                }
                _ => false,
            }
        });
        if !joined {
            out.push(next);
        }
    }
    out
}

fn add_part(low: f64, high: f64, big: &Unit, next: &Typed, small: &Unit) -> Option<(f64, f64)> {
    let part = small.convert_difference(next.low, big)?;
    let smaller = small.convert_difference(1.0, big)? < 1.0;
    let counted = matches!(big.spelling.as_str(), "h" | "min" | "day" | "week" | "year" | "month" | "ft" | "deg");
    (counted && smaller && (0.0..1.0).contains(&part) && low.fract() == 0.0 && low >= 0.0)
        .then_some((low + part, high + part))
}
