//! The unit behind a number: how far it reaches.
//!
//! `2 m/s` is a speed, `x / 2 m / s` two divisions: a stroke belongs to the unit only where it stands close on both
//! sides and a unit's name, or a bracket of units alone, follows. A space or a `·` between units multiplies them.

use std::ops::Range;

use super::names::{begins_name, continues_name};
use crate::domain::quantity::Unit;
use crate::domain::quantity::table::position;
use crate::domain::quantity::typed::chars::Chars;

/// A bracket of units may have this many characters.
const MOST_IN_BRACKET: usize = 40;

/// The characters of the unit behind a number that ends at `end`; `None` where there is none.
pub(super) fn at(text: &Chars, end: usize) -> Option<Range<usize>> {
    let start = text.skip_spaces(end);
    let mut stop = factor(text, start)?;
    loop {
        let next = match text.get(stop) {
            Some('/') => factor(text, stop + 1).or_else(|| bracket(text, stop + 1)),
            Some('·' | '.') => factor(text, stop + 1),
            Some(' ') if converts(text, text.skip_spaces(stop)) => None,
            Some(' ') => factor(text, text.skip_spaces(stop)),
            _ => None,
        };
        match next {
            Some(next) => stop = next,
            None => return Some(start..stop),
        }
    }
}

/// Whether `in` and another unit follow: a wish to convert, and no inches.
fn converts(text: &Chars, at: usize) -> bool {
    let (word, end) = text.word(at);
    word == "in" && text.get(end) == Some(' ') && factor(text, text.skip_spaces(end)).is_some()
}

/// One unit with its power, from `at`.
fn factor(text: &Chars, at: usize) -> Option<usize> {
    let sign = |c: char| matches!(c, '%' | '‰');
    if text.get(at).is_some_and(sign) {
        return Some(at + 1);
    }
    if !text.get(at).is_some_and(begins_name) {
        return None;
    }
    let mut end = at;
    while text.get(end).is_some_and(continues_name) {
        end += 1;
    }
    let name: String = text.chars[at..end].iter().collect();
    let letters = name.trim_end_matches(|c: char| c.is_ascii_digit());
    if position(&name).is_none() && (letters.is_empty() || position(letters).is_none()) {
        return None;
    }
    // A function of that name, as in `3 min(a, b)`, is no unit.
    if text.get(end) == Some('(') {
        return None;
    }
    Some(power(text, end))
}

/// Behind `^2` or `^-1`, where that stands there.
fn power(text: &Chars, at: usize) -> usize {
    if text.get(at) != Some('^') {
        return at;
    }
    let mut end = at + 1 + usize::from(text.get(at + 1) == Some('-'));
    if !text.is_digit(end) {
        return at;
    }
    while text.is_digit(end) {
        end += 1;
    }
    end
}

/// A bracket that holds units alone, such as `(kg K)`.
fn bracket(text: &Chars, at: usize) -> Option<usize> {
    if text.get(at) != Some('(') {
        return None;
    }
    let length = text.chars[at..].iter().take(MOST_IN_BRACKET).position(|c| *c == ')')?;
    let inner: String = text.chars[at + 1..at + length].iter().collect();
    let numbers = inner.trim_start().starts_with(|c: char| c.is_ascii_digit());
    (!numbers && !inner.trim().is_empty() && Unit::parse(&inner).is_ok()).then(|| power(text, at + length + 1))
}
