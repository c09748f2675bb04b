//! Numbers as people type them: thousands marks, decimal commas, powers of ten, fractions and number words.

use super::chars::Chars;
use crate::domain::english;

/// A number read, and the character after it.
pub(in crate::domain::quantity) type Read = (f64, usize);

/// A number in figures at `i`, without a sign; `None` where there is none or it is none that can be read.
pub(super) fn figures(text: &Chars, i: usize) -> Option<Read> {
    let (mut number, mut end) = plain(text, i)?;
    if let Some((fraction, after)) = fraction(text, i, number, end) {
        let of = text.word(text.skip_spaces(after)).0 == "of";
        return Some((fraction, if of { after_part(text, after) } else { after }));
    }
    // "1 1/2"
    let next = text.skip_spaces(end);
    if next > end
        && number.fract() == 0.0
        && let Some((top, after)) = plain(text, next)
        && let Some((part, after)) = fraction(text, next, top, after)
    {
        return Some((number + part, after));
    }
    if let Some((power, after)) = raised(text, end) {
        number = number.powi(power);
        end = after;
    }
    if let Some((power, after)) = times_ten(text, end) {
        number *= 10f64.powi(power);
        end = after;
    }
    number.is_finite().then_some((number, end))
}

/// Digits with thousands marks, a decimal mark and an `e` exponent.
pub(in crate::domain::quantity) fn plain(text: &Chars, i: usize) -> Option<Read> {
    let mut digits = String::new();
    let mut end = i;
    while text.is_digit(end) {
        digits.push(text.get(end)?);
        end += 1;
    }
    let whole = end - i;
    if whole > 0 {
        end = thousands(text, end, whole, &mut digits);
    }
    let mark = text.get(end);
    let pointed = mark == Some('.') && text.is_digit(end + 1);
    let comma = whole > 0 && mark == Some(',') && text.is_digit(end + 1);
    if pointed || comma {
        digits.push('.');
        end += 1;
        while text.is_digit(end) {
            digits.push(text.get(end)?);
            end += 1;
        }
        // "1.5.2" is no number.
        if matches!(text.get(end), Some('.')) && text.is_digit(end + 1) {
            return None;
        }
    } else if whole == 0 {
        return None;
    }
    if matches!(text.get(end), Some('e' | 'E')) {
        let start = end + 1 + usize::from(matches!(text.get(end + 1), Some('-' | '+')));
        let mut stop = start;
        while text.is_digit(stop) {
            stop += 1;
        }
        if stop > start && stop - start <= 3 && !text.is_letter(stop) {
            digits.extend(&text.chars[end..stop]);
            end = stop;
        }
    }
    digits.parse().ok().map(|number: f64| (number, end))
}

/// Takes groups of exactly three digits behind a comma, a space or an apostrophe into `digits`.
fn thousands(text: &Chars, mut end: usize, whole: usize, digits: &mut String) -> usize {
    let below_one = digits.chars().all(|c| c == '0');
    let Some(mark @ (',' | ' ' | '\'')) = text.get(end) else { return point_groups(text, end, whole, digits) };
    if below_one || (mark != ',' && whole > 3) {
        return end;
    }
    while text.get(end) == Some(mark) && (1..=3).all(|n| text.is_digit(end + n)) && !text.is_digit(end + 4) {
        // "10 500/600" and "2 100.000" stay as they are only where the next group is no group.
        digits.extend(&text.chars[end + 1..end + 4]);
        end += 4;
    }
    end
}

/// "1.234,5": points before a decimal comma are thousands marks.
fn point_groups(text: &Chars, end: usize, whole: usize, digits: &mut String) -> usize {
    let group =
        |at: usize| text.get(at) == Some('.') && (1..=3).all(|n| text.is_digit(at + n)) && !text.is_digit(at + 4);
    let mut stop = end;
    while group(stop) {
        stop += 4;
    }
    let decimal_comma = text.get(stop) == Some(',') && text.is_digit(stop + 1);
    let several = stop > end + 4;
    if stop == end || whole > 3 || !(decimal_comma || several) {
        return end;
    }
    digits.extend(text.chars[end..stop].iter().filter(|c| c.is_ascii_digit()));
    stop
}

/// "1/2" and "3/4": a small whole number over a greater one, with nothing glued to it.
fn fraction(text: &Chars, start: usize, top: f64, end: usize) -> Option<Read> {
    if text.get(end) != Some('/') || !text.is_digit(end + 1) || end - start > 2 {
        return None;
    }
    let (bottom, after) = plain(text, end + 1)?;
    let small = top >= 1.0 && bottom <= 64.0 && top < bottom && top.fract() == 0.0 && bottom.fract() == 0.0;
    (small && text.get(after) != Some('/')).then(|| (top / bottom, after))
}

/// `^3` after a number.
fn raised(text: &Chars, i: usize) -> Option<(i32, usize)> {
    (text.get(i) == Some('^')).then(|| whole_number(text, i + 1))?
}

/// `×10^3`, `x 10^3`, `* 10^-6`.
fn times_ten(text: &Chars, i: usize) -> Option<(i32, usize)> {
    let at = text.skip_spaces(i);
    if !matches!(text.get(at), Some('*' | 'x' | 'X' | '·')) {
        return None;
    }
    let at = text.skip_spaces(at + 1);
    if !text.has(at, "10") {
        return None;
    }
    let at = if text.has(at, "10**") {
        at + 4
    } else if text.has(at, "10^") {
        at + 3
    } else {
        return None;
    };
    whole_number(text, at)
}

/// A whole number of at most two digits, perhaps with a sign or in brackets.
fn whole_number(text: &Chars, i: usize) -> Option<(i32, usize)> {
    let bracket = usize::from(text.get(i) == Some('('));
    let mut at = i + bracket;
    let sign = match text.get(at) {
        Some('-') => -1,
        _ => 1,
    };
    at += usize::from(matches!(text.get(at), Some('-' | '+')));
    let start = at;
    let mut number = 0i32;
    while text.is_digit(at) && at - start < 2 {
        number = number * 10 + text.get(at).and_then(|c| c.to_digit(10)).and_then(|d| i32::try_from(d).ok())?;
        at += 1;
    }
    if at == start || text.is_digit(at) {
        return None;
    }
    at += usize::from(bracket == 1 && text.get(at) == Some(')'));
    Some((sign * number, at))
}

/// The worth of one number word, such as "seven", "forty" or "hundred".
pub(super) fn word_value(word: &str) -> Option<f64> {
    if let Some(number) = english::named(word) {
        return Some(number as f64);
    }
    match word {
        "fourty" => Some(40.0),
        "dozen" => Some(12.0),
        "hundred" => Some(100.0),
        "thousand" => Some(1000.0),
        "million" => Some(1_000_000.0),
        _ => None,
    }
}

/// A number in words at `i`: "thirty", "forty-five", "a hundred and ten", "one and a half", "one point five",
/// "three quarters", "half".
pub(super) fn words(text: &Chars, i: usize) -> Option<Read> {
    let (first, mut end) = text.word(i);
    if let Some(part) = part_value(&first) {
        return Some((part, after_part(text, end)));
    }
    if matches!(first.as_str(), "a" | "an") {
        let next = text.skip_spaces(end);
        let (word, after) = text.word(next);
        if let Some(part) = part_value(&word) {
            return Some((part, after_part(text, after)));
        }
        if !matches!(word.as_str(), "hundred" | "thousand" | "million" | "dozen") {
            return None;
        }
        end = i;
    } else {
        word_value(&first)?;
    }
    let (mut total, mut group, mut at) = (0.0, 0.0, i);
    if end == i {
        (group, at) = (1.0, text.skip_spaces(text.word(i).1));
    }
    let mut last = f64::INFINITY;
    loop {
        let (word, after) = text.word(at);
        let Some(value) = word_value(&word) else { break };
        match value {
            v if v >= 1000.0 => {
                total += if group == 0.0 { v } else { group * v };
                group = 0.0;
            }
            v if v == 100.0 || word == "dozen" => group = if group == 0.0 { v } else { group * v },
            v if v >= last || (v >= 10.0 && last < 100.0) => break,
            v => group += v,
        }
        last = value;
        end = after;
        at = next_part(text, after);
    }
    Some(tail_parts(text, total + group, end))
}

/// Where the next word of a number begins: behind a space, a hyphen or an "and".
fn next_part(text: &Chars, end: usize) -> usize {
    let mut at = text.skip_spaces(end);
    if text.get(at) == Some('-') {
        at = text.skip_spaces(at + 1);
    }
    let (word, after) = text.word(at);
    if word == "and" { text.skip_spaces(after) } else { at }
}

fn part_value(word: &str) -> Option<f64> {
    match word {
        "half" => Some(0.5),
        "quarter" => Some(0.25),
        _ => None,
    }
}

/// "half an hour", "a quarter of a minute": the unit stands behind "of", "a" or "an".
fn after_part(text: &Chars, mut end: usize) -> usize {
    for _ in 0..2 {
        let at = text.skip_spaces(end);
        let (word, after) = text.word(at);
        if matches!(word.as_str(), "of" | "a" | "an") {
            end = after;
        }
    }
    end
}

/// "three quarters", "one and a half", "one point five" after a number in words.
fn tail_parts(text: &Chars, number: f64, end: usize) -> Read {
    let at = next_part(text, end);
    let (word, after) = text.word(at);
    match word.as_str() {
        "quarters" => return (number / 4.0, after_part(text, after)),
        "thirds" => return (number / 3.0, after_part(text, after)),
        "point" => return decimals(text, number, after).unwrap_or((number, end)),
        _ => {}
    }
    match and_a_half(text, end) {
        Some((part, after)) => (number + part, after),
        None => (number, end),
    }
}

/// "and a half", "and a quarter" at `i`.
pub(super) fn and_a_half(text: &Chars, i: usize) -> Option<Read> {
    let (and, after) = text.word(text.skip_spaces(i));
    let (a, after) = text.word(text.skip_spaces(after));
    let (part, after) = text.word(text.skip_spaces(after));
    (and == "and" && a == "a").then(|| part_value(&part).map(|p| (p, after)))?
}

fn decimals(text: &Chars, number: f64, mut end: usize) -> Option<Read> {
    let mut scale = 1.0;
    let mut total = number;
    loop {
        let (word, after) = text.word(text.skip_spaces(end));
        match word_value(&word).filter(|v| *v < 10.0) {
            Some(digit) => {
                scale /= 10.0;
                total += digit * scale;
                end = after;
            }
            None => return (scale < 1.0).then_some((total, end)),
        }
    }
}
