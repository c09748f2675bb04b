//! A working as data to draw: the figures given, the worksheet's lines with their results, the verdict, the method.
//! The worksheet that stands outside of any card is made of the same parts.

use std::ops::Range;
use std::sync::Arc;

use crate::present::Tone;
use crate::present::watch::ResultView;
use crate::present::words;

/// Before the answer, and while a second try or a practice with fresh figures is worked.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkingAskedView {
    /// What is given, in the order of the deck.
    pub givens: Vec<GivenRow>,
    /// The learner's lines, evaluated as far as that has come.
    pub sheet: WorksheetView,
    /// The answer as typed so far.
    pub answer: String,
    /// What it is asked in: `In kW, or in any other unit of power.`
    pub hint: String,
    /// What this round is, where it is not the first: a second try, or practice.
    pub round: Round,
    /// What was said of the first try, where this is the second.
    pub before: Vec<TryView>,
}

/// Which round of a working is on the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Round {
    /// The first try, which counts.
    #[default]
    First,
    /// The second try on the same figures.
    Second,
    /// Fresh figures after the marking: practice that counts for nothing.
    Practice,
}

/// A figure that is given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GivenRow {
    /// Its name for people: `Mean indicated pressure`.
    pub name: String,
    /// Its name in expressions: `pm`.
    pub symbol: String,
    /// Its number.
    pub number: String,
    /// Its unit, with the signs for reading; empty for a plain number.
    pub unit: String,
}

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
    /// It is being worked out.
    Pending,
    /// A value.
    Value(ValueView),
    /// It cannot be worked out.
    Wrong {
        /// Why, in a sentence.
        words: String,
        /// Which characters of the line that is about; empty where something is missing there.
        place: Option<Range<usize>>,
        /// It only follows from what is wrong with a line above.
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
    /// The same with more digits, as it is taken over as the answer: `1876.31 kW`.
    pub taken: String,
}

/// After the answer.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkingMarkedView {
    /// What was given.
    pub givens: Vec<GivenRow>,
    /// The learner's lines, with how each stands against the method.
    pub lines: Vec<MarkedLine>,
    /// The answer that was given last.
    pub answer: ValueView,
    /// What is to be said of each try, the first one first.
    pub tries: Vec<TryView>,
    /// The right answer with its tolerance; none while a second try is open.
    pub expected: Option<String>,
    /// The method with this draw's values, once it was asked for.
    pub method: Option<Vec<MethodLine>>,
    /// A second try on the same figures is open.
    pub may_try_again: bool,
    /// This is practice with fresh figures; the result is that of the try that counts.
    pub practice: bool,
    /// What it comes to.
    pub result: ResultView,
}

/// A line of the learner's worksheet after the marking.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MarkedLine {
    /// As typed.
    pub text: String,
    /// Its value; none where it had none.
    pub value: Option<ValueView>,
    /// `Good` where it agrees with the method, `Bad` where something is known to be wrong with it, else `Plain`.
    pub tone: Tone,
    /// What is to be said of it; empty where nothing is.
    pub words: String,
}

/// What is to be said of a try.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TryView {
    /// `Good` for right, `Weak` for right but for a slip, `Bad` for wrong.
    pub tone: Tone,
    /// `First try, 3752 kW: a four-stroke fires every second revolution.`
    pub words: String,
    /// A second, quieter sentence; empty where there is none.
    pub note: String,
}

/// A line of the method.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MethodLine {
    /// `area = pi * bore^2 / 4`.
    pub text: String,
    /// Its value with the figures of this draw.
    pub value: ValueView,
    /// Which line of the learner's agrees with it: `your line 1`; empty where none does.
    pub yours: String,
}

/// The worksheet that stands outside of any card.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct WorksheetPageView {
    /// Its lines.
    pub sheet: WorksheetView,
    /// How a line is written: an example, and what it shows.
    pub examples: Vec<(&'static str, &'static str)>,
    /// The functions that are known, and what each gives.
    pub functions: Vec<(String, &'static str)>,
}

impl ValueView {
    /// Number and unit: `1876 kW`, `50 %`.
    pub fn words(&self) -> String {
        joined(&self.number, &self.unit)
    }

    /// The same as it is said: `6.000 per second`.
    pub fn spoken(&self) -> String {
        joined(&self.number, &spoken_unit(&self.unit))
    }
}

impl GivenRow {
    /// As it is said: `Bore, D: 320 mm`.
    pub fn spoken(&self) -> String {
        format!("{}, {}: {}", self.name, self.symbol, joined(&self.number, &spoken_unit(&self.unit)))
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

fn joined(number: &str, unit: &str) -> String {
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
