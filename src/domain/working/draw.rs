//! Drawing a working's figures from a seed.

use super::card::{Given, Working};
use crate::domain::quantity::{Quantity, Unit, Value, Within, plain, significant};
use crate::domain::random::SplitMix64;

/// Digits that a result is shown with.
pub const DIGITS: usize = 4;
/// A given may have this many steps, so that each can be counted.
pub const MOST_STEPS: f64 = 1e6;
/// A step may have this many decimals.
const MOST_DECIMALS: usize = 9;

/// The figures for a seed, one for each of the working's givens in its order, each in the unit of its `from`.
pub fn draw(working: &Working, seed: u64) -> Vec<Quantity> {
    let mut numbers = SplitMix64::new(seed);
    working
        .givens
        .iter()
        .map(|given| {
            let count = given.steps() + 1;
            given.at(numbers.below(count))
        })
        .collect()
}

/// The figure of a given as it is written for people: with as many decimals as its step has, such as `16.2 bar`.
pub fn text(given: &Given, figure: &Quantity) -> String {
    let decimals = if figure.unit == given.from.unit { given.decimals() } else { 0 };
    let plain = format!("{:.decimals$}", figure.number);
    // A figure that does not lie on the steps is given as it is.
    let number = if plain.parse() == Ok(figure.number) { plain } else { figure.number.to_string() };
    format!("{number} {}", figure.unit).trim_end().to_owned()
}

/// A value in a unit that the card itself uses, where one fits: the answer's, then those of its givens; else in one that
/// the trade would choose.
pub fn result_text(working: &Working, value: &Value) -> String {
    value.text(DIGITS, unit_among(units(working), value))
}

/// The value of a line of the method; that of the answer's own line in the answer's unit.
pub fn line_text(working: &Working, line: &str, value: &Value) -> String {
    if working.answer.trim() == line { value.text(DIGITS, Some(&working.unit)) } else { result_text(working, value) }
}

/// The units that a card uses: the answer's, then those of its givens.
pub(super) fn units(working: &Working) -> impl Iterator<Item = &str> {
    std::iter::once(working.unit.as_str()).chain(working.givens.iter().map(|given| given.from.unit.as_str()))
}

/// The first of these units in which people would give a value.
pub(super) fn unit_among<'u>(mut units: impl Iterator<Item = &'u str>, value: &Value) -> Option<&'u str> {
    units.find(|unit| Unit::parse(unit).is_ok_and(|unit| value.is_shown_in(&unit)))
}

/// An answer's number in the card's unit with digits enough for the tolerance, such as `1876 kW`.
pub fn answer_text(working: &Working, number: f64) -> String {
    let is_exact = working.within == Within::Exact;
    let share = if number == 0.0 { 1.0 } else { working.tolerance().around(number) / number.abs() };
    let text = if share > 0.0 && !is_exact {
        // One digit finer than the tolerance, and never fewer than four.
        let finer = (1.0 - share.log10()).ceil().clamp(4.0, 12.0);
        significant(number, finer as usize)
    } else {
        plain(number, 7)
    };
    format!("{text} {}", working.unit).trim_end().to_owned()
}

/// How far from the right answer is still right: a share of it, or a distance in the card's unit.
#[derive(Debug, Clone, Copy)]
pub struct Tolerance {
    share: f64,
    distance: f64,
}

impl Tolerance {
    pub fn around(self, answer: f64) -> f64 {
        self.share * answer.abs() + self.distance
    }
}

impl Working {
    /// How far from the answer a figure may lie.
    pub fn tolerance(&self) -> Tolerance {
        const EXACT: f64 = 1e-6;
        match &self.within {
            Within::Exact => Tolerance { share: EXACT, distance: 0.0 },
            Within::Relative(share) => Tolerance { share: *share, distance: 0.0 },
            Within::Absolute(tolerance) => {
                Tolerance { share: 0.0, distance: tolerance.convert_difference(&self.unit).unwrap_or(0.0) }
            }
        }
    }
}

impl Given {
    /// The step as a difference in the unit of `from`; zero where it has none, which reading a deck excludes.
    pub fn step_size(&self) -> f64 {
        self.step.convert_difference(&self.from.unit).unwrap_or(0.0)
    }

    /// `to` in the unit of `from`.
    pub fn greatest(&self) -> f64 {
        self.to.convert(&self.from.unit).unwrap_or(self.from.number)
    }

    /// How many steps lead from `from` to the last figure that is not above `to`.
    pub fn steps(&self) -> u64 {
        let steps = (self.greatest() - self.from.number) / self.step_size();
        // A hair of room: 0.7 to 1.0 by 0.1 are three steps, whatever the last digits say.
        if steps.is_finite() && steps > 0.0 { (steps + 1e-9).floor().min(MOST_STEPS) as u64 } else { 0 }
    }

    /// The figure after so many steps, rounded to the decimals in which the steps are written.
    pub fn at(&self, steps: u64) -> Quantity {
        Quantity { number: Range::of(self).number(steps), unit: self.from.unit.clone() }
    }

    /// How many decimals `from` and the step have.
    pub fn decimals(&self) -> usize {
        decimals(self.from.number).max(decimals(self.step_size()))
    }
}

/// A given's range made ready for many draws.
pub struct Range {
    unit: Option<Unit>,
    from: f64,
    step: f64,
    scale: f64,
    /// How many steps lead to the last figure.
    pub steps: u64,
}

impl Range {
    pub fn of(given: &Given) -> Self {
        Self {
            unit: Unit::parse(&given.from.unit).ok(),
            from: given.from.number,
            step: given.step_size(),
            scale: 10f64.powi(i32::try_from(given.decimals()).unwrap_or(0)),
            steps: given.steps(),
        }
    }

    /// The figure after so many steps. To divide a whole number by a power of ten gives the very number that its
    /// decimals are read as.
    fn number(&self, steps: u64) -> f64 {
        // At most a million, so it fits.
        let number = self.from + steps as f64 * self.step;
        let rounded = (number * self.scale).round() / self.scale;
        if rounded.is_finite() { rounded } else { number }
    }

    /// Number of the figure in base units.
    pub fn base_number(&self, steps: u64) -> f64 {
        let number = self.number(steps);
        self.unit.as_ref().map_or(f64::NAN, |unit| Value::in_unit(number, unit).base_number())
    }
}

fn decimals(number: f64) -> usize {
    let whole = |decimals: &usize| {
        let scaled = number * 10f64.powi(i32::try_from(*decimals).unwrap_or(0));
        (scaled - scaled.round()).abs() < 1e-6
    };
    (0..=MOST_DECIMALS).find(whole).unwrap_or(MOST_DECIMALS)
}
