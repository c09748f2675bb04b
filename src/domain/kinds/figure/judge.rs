//! A typed quantity against the right one, in whatever unit of its dimension.
//!
//! Of several quantities the first of the right dimension counts; a choice ("10 or 12 bar") and a range
//! ("10-12 bar") are right only where every number of them is within the tolerance.

use super::content::Figure;
use crate::domain::english::capital as sentence;
use crate::domain::marking::{AnswerError, Slip, SlipKind};
use crate::domain::outcome::Outcome;
use crate::domain::quantity::typed::{ReadUnit, Typed, scan};
use crate::domain::quantity::{Dimension, Quantity, QuantityError, Unit};
use crate::domain::working::Asks;

/// Only so much of a typed figure is read, in bytes.
const READ_BYTES: usize = 4_000;
/// Equal, where the card gives no tolerance: one part in this.
const EXACT: f64 = 1e-6;
/// Room for rounding at the edge of a tolerance.
const ROUNDING: f64 = 1e-9;

/// Judges a typed figure. Where the value is a rate and the question asks for what it is a rate of, that counts too.
pub(in crate::domain::kinds) fn judge(
    figure: &Figure,
    asks: Option<&Asks>,
    text: &str,
) -> Result<Verdict, AnswerError> {
    let target =
        Target::of(figure, asks).map_err(|error| AnswerError { message: format!("the card's value: {error}") })?;
    let text = beginning(text);
    let readings = target.read(text);
    let verdict = target.judge(&readings, text);
    Ok(Verdict { error: verdict.error.filter(|e| e.is_finite()), ..verdict })
}

fn beginning(text: &str) -> &str {
    let mut end = text.len().min(READ_BYTES);
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    &text[..end]
}

/// How a figure stands against the right one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::domain::kinds) enum Standing {
    Right,
    /// The number is right and its unit is missing.
    UnitMissing,
    Wrong,
}

/// A figure as judged.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::domain::kinds) struct Verdict {
    pub(in crate::domain::kinds) standing: Standing,
    /// The relative error in the card's unit; none where the dimension is wrong.
    pub(in crate::domain::kinds) error: Option<f64>,
    pub(in crate::domain::kinds) slip: Option<Slip>,
    pub(in crate::domain::kinds) reason: String,
    /// The first number given, in the card's unit; none where there is none of the right dimension.
    pub(in crate::domain::kinds) given: Option<f64>,
    /// Whether it was given with a unit.
    pub(in crate::domain::kinds) has_unit: bool,
}

impl Verdict {
    pub(in crate::domain::kinds) fn outcome(&self, in_time: bool) -> Outcome {
        match self.standing {
            Standing::Right if in_time => Outcome::Fluent,
            Standing::Right => Outcome::Answered,
            Standing::UnitMissing => Outcome::Prompted,
            Standing::Wrong => Outcome::Missed,
        }
    }
}

struct Target<'a> {
    figure: &'a Figure,
    asks: Option<&'a Asks>,
    value: &'a Quantity,
    unit: Unit,
    /// The tolerance in the card's unit.
    distance: f64,
}

impl<'a> Target<'a> {
    fn of(figure: &'a Figure, asks: Option<&'a Asks>) -> Result<Self, QuantityError> {
        let unit = Unit::parse(&figure.value.unit)?;
        let exact = EXACT * figure.value.number.abs();
        let distance = figure.within.distance(&figure.value)?.unwrap_or(exact);
        Ok(Self { figure, asks, value: &figure.value, unit, distance })
    }

    /// The quantities of the answer. Where none is a rate, what the question asks for is taken as one.
    fn read(&self, text: &str) -> Vec<Typed> {
        let readings = scan(text, Some(&self.unit.dimension));
        let is_of = |typed: &Typed, dimension: &Dimension| match &typed.unit {
            ReadUnit::Known(unit) => unit.dimension == *dimension,
            _ => false,
        };
        let Some(asks) = self.asks.filter(|_| !readings.iter().any(|typed| is_of(typed, &self.unit.dimension))) else {
            return readings;
        };
        let mut readings = scan(text, Some(&asks.unit.dimension));
        for typed in readings.iter_mut().filter(|typed| is_of(typed, &asks.unit.dimension)) {
            let ReadUnit::Known(unit) = &typed.unit else { continue };
            let rate = |number: f64| unit.convert(number, &asks.above).unwrap_or(number);
            (typed.low, typed.high) = (rate(typed.low), rate(typed.high));
            typed.unit = ReadUnit::Known(self.unit.clone());
        }
        readings
    }

    /// A number without a unit, in the card's.
    fn bare(&self, number: f64) -> f64 {
        self.asks.and_then(|asks| asks.unit.convert(number, &asks.above)).unwrap_or(number)
    }

    fn judge(&self, readings: &[Typed], text: &str) -> Verdict {
        let Some(chosen) = self.choose(readings) else {
            return wrong(None, None, "No figure could be read in the answer.".to_owned());
        };
        let first = &chosen[0];
        let said = text.get(first.span.clone()).unwrap_or_default().trim();
        match &first.unit {
            ReadUnit::Known(unit) if unit.dimension == self.unit.dimension => {
                let given = self.values(chosen, unit).first().copied();
                Verdict { given, has_unit: true, ..self.judge_known(chosen, unit, said) }
            }
            ReadUnit::Known(_) => self.wrong_kind(said),
            ReadUnit::Unknown(word) if !self.unit.is_bare() => self.unknown_unit(word),
            _ if self.unit.is_bare() => {
                Verdict { given: Some(first.low), ..self.judge_known(chosen, &self.unit, said) }
            }
            _ => Verdict { given: Some(self.bare(first.low)), ..self.judge_bare(chosen, said) },
        }
    }

    /// The quantity that counts, with the choices offered beside it.
    fn choose<'t>(&self, readings: &'t [Typed]) -> Option<&'t [Typed]> {
        let fits = |t: &Typed| match &t.unit {
            ReadUnit::Known(unit) => unit.dimension == self.unit.dimension,
            ReadUnit::None | ReadUnit::Unknown(_) => self.unit.is_bare(),
        };
        let plain = |t: &&Typed| !t.denied;
        let known = |t: &Typed| !matches!(t.unit, ReadUnit::Unknown(_));
        let at = readings
            .iter()
            .position(|t| fits(t) && plain(&t) && !(self.unit.is_bare() && t.in_words && readings.len() > 1))
            .or_else(|| readings.iter().position(|t| fits(t) && plain(&t)))
            .or_else(|| readings.iter().position(|t| known(t) && plain(&t) && !t.in_words))
            .or_else(|| readings.iter().position(|t| plain(&t)))
            .or_else(|| (!readings.is_empty()).then_some(0))?;
        let more = readings[at + 1..].iter().take_while(|t| t.or && fits(t)).count();
        Some(&readings[at..=at + more])
    }

    fn judge_known(&self, chosen: &[Typed], unit: &Unit, said: &str) -> Verdict {
        let values = self.values(chosen, unit);
        let error = self.error(&values);
        if self.all_within(&values) {
            let reason =
                format!("{} is right: {}{}.", said_or_it(said), self.figure.value_text, self.tolerance_words());
            return Verdict { standing: Standing::Right, reason, ..wrong(error, None, String::new()) };
        }
        let numbers: Vec<f64> = chosen.iter().flat_map(|t| [t.low, t.high]).collect();
        if unit.spelling != self.unit.spelling && !unit.is_bare() && self.all_within(&numbers) {
            let wanted =
                if self.unit.is_bare() { "as a plain number".to_owned() } else { format!("in {}", self.unit_words()) };
            let tell = format!("The number is right, but {wanted}, not in {}.", unit.spelling);
            return wrong(error, Some(Slip { kind: SlipKind::Unit, tell: tell.clone() }), tell);
        }
        if let Some(power) = self.power_of_ten(&values) {
            let tell = power_tell(power);
            return wrong(error, Some(Slip { kind: SlipKind::PowerOfTen, tell: tell.clone() }), tell);
        }
        wrong(error, None, format!("{} is not {}{}.", said_or_it(said), self.figure.value_text, self.tolerance_words()))
    }

    fn judge_bare(&self, chosen: &[Typed], said: &str) -> Verdict {
        let values: Vec<f64> = chosen.iter().flat_map(|t| [self.bare(t.low), self.bare(t.high)]).collect();
        let error = self.error(&values);
        let unit = self.unit_words();
        if self.all_within(&values) {
            let tell = format!("The number is right, but say its unit: {unit}.");
            let slip = Some(Slip { kind: SlipKind::Unit, tell: tell.clone() });
            return Verdict { standing: Standing::UnitMissing, ..wrong(error, slip, tell) };
        }
        let mut tell = format!("{} has no unit, and the number is not right in {unit} either.", said_or_it(said));
        if let Some(power) = self.power_of_ten(&values) {
            tell = format!("{} has no unit. {}", said_or_it(said), power_tell(power));
        }
        wrong(error, Some(Slip { kind: SlipKind::Unit, tell: tell.clone() }), tell)
    }

    fn wrong_kind(&self, said: &str) -> Verdict {
        let wanted = self.value.described();
        let tell = if self.unit.is_bare() {
            format!("{} has a unit, but a plain number is asked for.", said_or_it(said))
        } else {
            format!("{} is not {wanted}; the answer is in {}.", said_or_it(said), self.unit_words())
        };
        wrong(None, Some(Slip { kind: SlipKind::Dimension, tell: tell.clone() }), tell)
    }

    fn unknown_unit(&self, word: &str) -> Verdict {
        let tell = format!("`{word}` is no unit of what is asked; the answer is in {}.", self.unit_words());
        wrong(None, Some(Slip { kind: SlipKind::Dimension, tell: tell.clone() }), tell)
    }

    /// The numbers given, in the card's unit.
    fn values(&self, chosen: &[Typed], first: &Unit) -> Vec<f64> {
        let value = |t: &Typed, number: f64| match &t.unit {
            ReadUnit::Known(unit) => unit.convert(number, &self.unit),
            _ => first.convert(number, &self.unit),
        };
        chosen.iter().flat_map(|t| [value(t, t.low), value(t, t.high)]).flatten().collect()
    }

    fn within(&self, value: f64) -> bool {
        let room = ROUNDING * self.value.number.abs().max(self.distance).max(self.zero_room());
        (value - self.value.number).abs() <= self.distance + room
    }

    /// Readings of temperature lose a little in the zero point.
    fn zero_room(&self) -> f64 {
        if self.unit.spelling.starts_with("deg") { 1.0 } else { 0.0 }
    }

    fn all_within(&self, values: &[f64]) -> bool {
        !values.is_empty() && values.iter().all(|v| self.within(*v))
    }

    /// The greatest relative error; where the right value is zero, the distance itself.
    fn error(&self, values: &[f64]) -> Option<f64> {
        let scale = if self.value.number == 0.0 { 1.0 } else { self.value.number.abs() };
        values.iter().map(|v| (v - self.value.number).abs() / scale).reduce(f64::max)
    }

    /// The power of ten that all numbers are off by.
    fn power_of_ten(&self, values: &[f64]) -> Option<i32> {
        let first = values.first()?;
        let ratio = first / self.value.number;
        if !(ratio.is_finite() && ratio > 0.0) {
            return None;
        }
        let power = ratio.log10().round();
        let scaled: Vec<f64> = values.iter().map(|v| v / 10f64.powf(power)).collect();
        // A few hundred at most, so it fits.
        (power != 0.0 && self.all_within(&scaled)).then_some(power as i32)
    }

    fn unit_words(&self) -> String {
        match self.asks.map_or(&self.unit, |asks| &asks.unit).spelling.as_str() {
            "degC" => "°C".to_owned(),
            "degF" => "°F".to_owned(),
            unit => unit.to_owned(),
        }
    }

    fn tolerance_words(&self) -> String {
        use crate::domain::quantity::Within;
        match &self.figure.within {
            Within::Exact => String::new(),
            Within::Relative(share) => format!(", within {} %", trimmed(share * 100.0)),
            Within::Absolute(q) => format!(", within {} {}", trimmed(q.number), q.unit).trim_end().to_owned(),
        }
    }
}

fn wrong(error: Option<f64>, slip: Option<Slip>, reason: String) -> Verdict {
    Verdict { standing: Standing::Wrong, error, slip, reason, given: None, has_unit: false }
}

fn said_or_it(said: &str) -> String {
    if said.is_empty() || said.chars().count() > 60 { "The answer".to_owned() } else { sentence(said) }
}

/// A number without the noise of its last digits.
fn trimmed(number: f64) -> String {
    let rounded = (number * 1e9).round() / 1e9;
    rounded.to_string()
}

fn power_tell(power: i32) -> String {
    let times = match power.unsigned_abs() {
        n @ 1..=6 => format!("{} times", 10u32.pow(n)),
        n => format!("10^{n} times"),
    };
    format!(
        "It is {times} too {}: look at the decimal point or the unit's prefix.",
        if power > 0 { "large" } else { "small" }
    )
}
