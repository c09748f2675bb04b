//! A worksheet as data to draw: lines with their results, and the page that stands outside of any card. Expressions, values
//! and units as they are written and said.

use std::ops::Range;
use std::sync::Arc;

use crate::present::words;

/// A worksheet.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct WorksheetView {
    /// The lines, as last told to the program; there is always one.
    pub lines: Vec<WorkLine>,
    /// Lines entered earlier in this session, the newest first.
    pub earlier: Arc<Vec<String>>,
}

/// A line of a worksheet.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct WorkLine {
    /// As typed.
    pub text: String,
    /// What it comes to.
    pub result: LineResult,
    /// What may not have been meant, in a sentence; empty where there is nothing to say.
    pub note: String,
}

/// What a line comes to.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum LineResult {
    /// Nothing stands in it.
    #[default]
    Nothing,
    /// The line is being worked out.
    Pending,
    /// A value.
    Value(ValueView),
    /// The line cannot be worked out.
    Wrong {
        /// Why, in a sentence.
        words: String,
        /// Which characters of the line that is about; empty where something is missing there.
        place: Option<Range<usize>>,
        /// Whether the fault only follows from what is wrong with a line above.
        follows: bool,
    },
}

/// A value to read.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ValueView {
    /// To a few significant digits: `0.08042`.
    pub number: String,
    /// With the signs for reading: `m²`; empty for a plain number.
    pub unit: String,
    /// Number and unit with more digits, as they are taken over as the answer: `1876.31 kW`.
    pub taken: String,
}

/// The worksheet that stands outside of any card.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct WorksheetPageView {
    /// Lines of the worksheet.
    pub sheet: WorksheetView,
    /// How a line is written: an example, and what it shows.
    pub examples: Vec<Written>,
    /// The functions that are known, and what each gives.
    pub functions: Vec<Written>,
}

/// Something that can be written in a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Written {
    /// As it is written: `D = 320 mm`, `sqrt(x)`.
    pub text: String,
    /// What it shows, or gives.
    pub what: &'static str,
}

impl ValueView {
    /// Number and unit: `1876 kW`, `50 %`.
    pub fn words(&self) -> String {
        joined(&self.number, &self.unit)
    }

    /// Number and unit as they are said: `6.000 per second`.
    pub fn spoken(&self) -> String {
        joined(&self.number, &spoken_unit(&self.unit))
    }
}

impl LineResult {
    /// The value, where there is one.
    pub fn value(&self) -> Option<&ValueView> {
        match self {
            LineResult::Value(value) => Some(value),
            _ => None,
        }
    }
}

/// An expression as one writes it, in plain text: `pi / 4 * D^2` becomes `π / 4 · D²`.
pub fn written(expression: &str) -> String {
    let mut out = String::new();
    let mut chars = expression.chars().peekable();
    let mut word = String::new();
    while let Some(c) = chars.next() {
        if c.is_alphanumeric() || c == '_' {
            word.push(c);
            continue;
        }
        out.push_str(if word == "pi" { "π" } else { &word });
        word.clear();
        let ends_after = |chars: &std::iter::Peekable<std::str::Chars<'_>>| {
            let mut rest = chars.clone();
            let digit = rest.next();
            (digit, rest.next().is_none_or(|n| !n.is_alphanumeric() && n != '.' && n != '_'))
        };
        match (c, ends_after(&chars)) {
            ('^', (Some('2'), true)) => {
                chars.next();
                out.push('²');
            }
            ('^', (Some('3'), true)) => {
                chars.next();
                out.push('³');
            }
            ('*', _) => out.push('·'),
            ('-', _) => out.push('−'),
            _ => out.push(c),
        }
    }
    out.push_str(if word == "pi" { "π" } else { &word });
    out
}

pub(super) fn joined(number: &str, unit: &str) -> String {
    format!("{number} {unit}").trim().to_owned()
}

/// Names that a message puts between backticks, in quotation marks.
pub fn quoted(message: &str) -> String {
    let mut out = String::new();
    for (n, part) in message.split('`').enumerate() {
        if n > 0 {
            out.push(if n % 2 == 1 { '“' } else { '”' });
        }
        out.push_str(part);
    }
    out
}

/// A unit in signs for reading: `1/s` becomes `s⁻¹`, `m3/h` `m³/h`.
pub fn unit_signs(unit: &str) -> String {
    match unit.strip_prefix("1/") {
        Some(one) if !one.is_empty() && one.chars().all(char::is_alphabetic) => format!("{one}⁻¹"),
        _ => words::signs(unit),
    }
}

/// A unit as it is said: `s⁻¹` becomes `per second`, `m³/h` `m cubed per hour`.
pub fn spoken_unit(unit: &str) -> String {
    let unit = match unit.strip_suffix("⁻¹") {
        Some(one) => format!("/{one}"),
        None => unit.to_owned(),
    };
    let mut out = String::new();
    for (n, part) in unit.split('/').enumerate() {
        if n > 0 {
            out.push_str(" per ");
        }
        out.push_str(&spoken_part(part));
    }
    out.trim().to_owned()
}

fn spoken_part(part: &str) -> String {
    const WORDS: [(&str, &str); 6] =
        [("s", "second"), ("min", "minute"), ("h", "hour"), ("d", "day"), ("%", "per cent"), ("°C", "degrees Celsius")];
    let bare = part.trim_matches(['(', ')', ' ', '1']);
    let (base, power) = match bare.strip_suffix('²') {
        Some(base) => (base, " squared"),
        None => bare.strip_suffix('³').map_or((bare, ""), |base| (base, " cubed")),
    };
    let word = WORDS.iter().find(|(sign, _)| *sign == base).map_or(base, |(_, word)| word);
    format!("{word}{power}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_are_written_and_said() {
        let cases = [
            ("1/s", "s⁻¹", "per second"),
            ("m2", "m²", "m squared"),
            ("m3/h", "m³/h", "m cubed per hour"),
            ("kJ/(kg K)", "kJ/(kg K)", "kJ per kg K"),
            ("g/kWh", "g/kWh", "g per kWh"),
            ("degC", "°C", "degrees Celsius"),
            ("%", "%", "per cent"),
            ("", "", ""),
        ];
        for (typed, signs, said) in cases {
            assert_eq!(unit_signs(typed), signs, "{typed}");
            assert_eq!(spoken_unit(&unit_signs(typed)), said, "{typed}");
        }
    }

    #[test]
    fn expressions_are_written_as_by_hand() {
        assert_eq!(written("pi * bore^2 / 4"), "π · bore² / 4");
        assert_eq!(written("x^2.5 - spin^20 + y^3"), "x^2.5 − spin^20 + y³");
        assert_eq!(written("2*pi"), "2·π");
    }

    #[test]
    fn a_value_is_read_and_said() {
        let value = ValueView { number: "6.000".into(), unit: "s⁻¹".into(), taken: "6.00000 1/s".into() };
        assert_eq!(value.words(), "6.000 s⁻¹");
        assert_eq!(value.spoken(), "6.000 per second");
        let ratio = ValueView { number: "2".into(), ..ValueView::default() };
        assert_eq!(ratio.words(), "2");
    }
}
