//! Unit spellings such as `kJ/(kg K)`, `m3/h` and `N/mm2`, read strictly as products of the table's units.
//!
//! A space, a `·` and a `.` between units multiply and bind closer than `/`, so that `kJ/kg K` is kJ/(kg K), as
//! the trade writes it. Length, depth and exponents are bounded here.

use super::error::QuantityError;
use super::table::position;
use super::worth::Factor;

/// The longest unit that is read, in characters.
const MAX_CHARS: usize = 200;
const MAX_DEPTH: usize = 8;
const MAX_POWER: u32 = 6;
const MAX_FACTORS: usize = 20;

/// A text with one spelling for each sign: `µ` as `u`, `Ω` as `ohm`, `°` as `deg`, superscripts as `^n`; and
/// `nautical miles` as `nmi`.
pub(super) fn clean(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut raised = false;
    for c in text.trim().chars() {
        let digit = superscript(c);
        if digit.is_some() && !raised {
            out.push('^');
        }
        raised = digit.is_some();
        match (digit, c) {
            (Some(d), _) => out.push(d),
            (None, '\u{b5}' | '\u{3bc}') => out.push('u'),
            (None, '\u{3a9}' | '\u{2126}') => out.push_str("ohm"),
            (None, '°' | 'º') => out.push_str("deg"),
            (None, '℃') => out.push_str("degC"),
            (None, '℉') => out.push_str("degF"),
            (None, '·' | '⋅' | '∙' | '•') => out.push('·'),
            (None, '×') => out.push('*'),
            (None, '−' | '–') => out.push('-'),
            (None, '∕' | '⁄' | '÷') => out.push('/'),
            (None, '\u{a0}' | '\u{2009}' | '\u{202f}' | '\u{2007}' | '\t') => out.push(' '),
            (None, c) => out.push(c),
        }
    }
    out.replace("deg C", "degC")
        .replace("deg F", "degF")
        .replace("nautical miles", "nmi")
        .replace("nautical mile", "nmi")
}

/// A superscript digit or minus as its plain sign.
pub fn superscript(c: char) -> Option<char> {
    Some(match c {
        '⁰' => '0',
        '¹' => '1',
        '²' => '2',
        '³' => '3',
        '⁴' => '4',
        '⁵' => '5',
        '⁶' => '6',
        '⁷' => '7',
        '⁸' => '8',
        '⁹' => '9',
        '⁻' => '-',
        _ => return None,
    })
}

/// The units of a cleaned spelling with their powers, in its order; none for a pure number.
///
/// # Errors
/// Where the spelling holds an unknown unit, is no product of units, or is beyond the bounds.
pub(super) fn product(cleaned: &str) -> Result<Vec<Factor>, QuantityError> {
    if cleaned.is_empty() {
        return Ok(Vec::new());
    }
    if cleaned.chars().count() > MAX_CHARS {
        return Err(QuantityError::too_long(MAX_CHARS));
    }
    let mut reader = Reader { rest: cleaned, whole: cleaned, depth: 0, factors: 0 };
    let found = reader.quotient()?;
    reader.spaces();
    if reader.rest.is_empty() { Ok(found) } else { Err(reader.unreadable()) }
}

/// A product raised to a power.
fn raised(product: Vec<Factor>, by: i64) -> Vec<Factor> {
    product.into_iter().map(|factor| Factor { power: factor.power * by, ..factor }).collect()
}

struct Reader<'a> {
    rest: &'a str,
    whole: &'a str,
    depth: usize,
    factors: usize,
}

impl Reader<'_> {
    fn unreadable(&self) -> QuantityError {
        QuantityError::unreadable_unit(self.whole)
    }

    fn spaces(&mut self) {
        self.rest = self.rest.trim_start();
    }

    fn take(&mut self, sign: char) -> bool {
        self.spaces();
        match self.rest.strip_prefix(sign) {
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        }
    }

    fn quotient(&mut self) -> Result<Vec<Factor>, QuantityError> {
        let mut out = self.product()?;
        loop {
            if self.take('/') {
                out.extend(raised(self.product()?, -1));
            } else if self.take('*') {
                out.extend(self.product()?);
            } else {
                return Ok(out);
            }
        }
    }

    fn product(&mut self) -> Result<Vec<Factor>, QuantityError> {
        let mut out = self.factor()?;
        loop {
            self.spaces();
            let joined = self.take('·') || self.take('.');
            let next = self.rest.chars().next();
            let unit_follows = next.is_some_and(|c| c.is_alphabetic() || matches!(c, '(' | '%' | '‰'));
            if !unit_follows {
                return if joined { Err(self.unreadable()) } else { Ok(out) };
            }
            out.extend(self.factor()?);
        }
    }

    fn factor(&mut self) -> Result<Vec<Factor>, QuantityError> {
        self.spaces();
        self.factors += 1;
        if self.factors > MAX_FACTORS {
            return Err(self.unreadable());
        }
        let base = if self.take('(') {
            self.depth += 1;
            if self.depth > MAX_DEPTH {
                return Err(self.unreadable());
            }
            let inner = self.quotient()?;
            if !self.take(')') {
                return Err(self.unreadable());
            }
            self.depth -= 1;
            inner
        } else if let Some(rest) = self.rest.strip_prefix('1').filter(|r| r.trim_start().starts_with('/')) {
            self.rest = rest;
            return Ok(Vec::new());
        } else {
            vec![Factor { unit: self.name()?, power: 1 }]
        };
        Ok(raised(base, self.power()?))
    }

    /// A unit by its name, as its place in the table: the longest run that the table holds, where digits may end it
    /// (`mm2`) or belong to it (`mH2O`).
    fn name(&mut self) -> Result<usize, QuantityError> {
        let run = self.rest.find(|c: char| !(c.is_alphanumeric() || matches!(c, '%' | '‰'))).unwrap_or(self.rest.len());
        let run = &self.rest[..run];
        if run.is_empty() {
            return Err(self.unreadable());
        }
        let letters = run.find(|c: char| c.is_ascii_digit()).unwrap_or(run.len());
        for end in [run.len(), letters] {
            if let Some(unit) = position(&run[..end]) {
                self.rest = &self.rest[end..];
                return Ok(unit);
            }
        }
        Err(QuantityError::unknown_unit(run))
    }

    fn power(&mut self) -> Result<i64, QuantityError> {
        let (marked, mut tail) = match self.rest.strip_prefix('^') {
            Some(tail) => (true, tail),
            None => (false, self.rest),
        };
        let mut sign = 1;
        if let Some(after) = tail.strip_prefix('-')
            && (marked || after.starts_with(|c: char| c.is_ascii_digit()))
        {
            sign = -1;
            tail = after;
        }
        let digits = tail.find(|c: char| !c.is_ascii_digit()).unwrap_or(tail.len());
        if digits == 0 {
            return if marked { Err(self.unreadable()) } else { Ok(1) };
        }
        let power: u32 = tail[..digits].parse().map_err(|_| self.unreadable())?;
        if power == 0 || power > MAX_POWER {
            return Err(QuantityError::power_too_high(self.whole, MAX_POWER));
        }
        self.rest = &tail[digits..];
        Ok(sign * i64::from(power))
    }
}
