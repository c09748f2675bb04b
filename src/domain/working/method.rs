//! A working's method made ready: every formula read and its units found to fit, so that it can be worked out on any
//! figures at once.

use super::card::Working;
use crate::domain::quantity::{Expression, ExpressionError, Formula, Kind, Quantity, QuantityError, Unit, Value};

/// A part of a working that holds a formula.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// A line of the method, from 0.
    Line(usize),
    /// The answer.
    Answer,
    /// A slip, from 0.
    Slip(usize),
}

/// What is wrong with a part.
#[derive(Debug, Clone, PartialEq)]
pub enum Fault {
    /// Its formula cannot be read or has no value.
    Formula(ExpressionError),
    /// What it gives is not of the answer's unit.
    Unit(QuantityError),
}

/// A working ready to be worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Method {
    lines: Vec<Formula>,
    answer: Formula,
    slips: Vec<Formula>,
    unit: Unit,
}

/// A working worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Worked {
    /// One for each line of the method.
    pub lines: Vec<Value>,
    /// The answer, in the card's unit.
    pub answer: f64,
    /// What each slip comes to, in the card's unit; none where it has no value for these figures.
    pub slips: Vec<Option<f64>>,
}

impl Method {
    /// Reads a working's formulas.
    ///
    /// # Errors
    /// With every part that is wrong, in the order of lines, answer and slips. A line that uses one that is wrong is
    /// not told as well.
    pub fn new(working: &Working) -> Result<Self, Vec<(Part, Fault)>> {
        let mut faults = Vec::new();
        let mut names: Vec<(String, Option<Kind>)> = Vec::new();
        for given in &working.givens {
            let kind = Unit::parse(&given.from.unit).ok().map(|unit| Kind::of_unit(&unit));
            names.push((given.name.clone(), kind));
        }
        let mut lines = Vec::new();
        for (at, line) in working.lines.iter().enumerate() {
            let formula = formula(&line.is, &names, Part::Line(at), &mut faults);
            names.push((line.name.clone(), formula.as_ref().map(Formula::kind)));
            lines.extend(formula);
        }
        let unit = match Unit::parse(&working.unit) {
            Ok(unit) => Some(unit),
            Err(error) => {
                faults.push((Part::Answer, Fault::Unit(error)));
                None
            }
        };
        let fitting = |text: &str, part: Part, faults: &mut Vec<(Part, Fault)>| {
            let formula = formula(text, &names, part, faults)?;
            if let Some(Err(error)) = unit.as_ref().map(|unit| formula.kind().fits(unit)) {
                faults.push((part, Fault::Unit(error)));
                return None;
            }
            Some(formula)
        };
        let answer = fitting(&working.answer, Part::Answer, &mut faults);
        let slips = working.slips.iter().enumerate();
        let slips: Vec<Formula> =
            slips.filter_map(|(at, slip)| fitting(&slip.is, Part::Slip(at), &mut faults)).collect();
        match (answer, unit) {
            (Some(answer), Some(unit)) if faults.is_empty() => Ok(Self { lines, answer, slips, unit }),
            _ => Err(faults),
        }
    }

    /// Works it out on these figures, in the order of the givens.
    ///
    /// # Errors
    /// Where a line or the answer has no value for them, with that part.
    pub fn work(&self, figures: &[Quantity]) -> Result<Worked, (Part, ExpressionError)> {
        let values: Vec<f64> = figures.iter().map(base_number).collect();
        self.run(values, &mut Vec::new())
    }

    /// The same on numbers in base units, for many draws; `room` is kept from one to the next.
    ///
    /// # Errors
    /// As [`Method::work`].
    pub(crate) fn run(&self, mut numbers: Vec<f64>, room: &mut Vec<f64>) -> Result<Worked, (Part, ExpressionError)> {
        let first = numbers.len();
        for (at, line) in self.lines.iter().enumerate() {
            let number = line.run(&numbers, room).map_err(|error| (Part::Line(at), error))?;
            numbers.push(number);
        }
        let answer = self.answer.run(&numbers, room).map_err(|error| (Part::Answer, error))?;
        let slips = self.slips.iter().map(|slip| Some(self.in_unit(slip.run(&numbers, room).ok()?, slip.kind())));
        Ok(Worked {
            slips: slips.collect(),
            answer: self.in_unit(answer, self.answer.kind()),
            lines: self
                .lines
                .iter()
                .zip(&numbers[first..])
                .map(|(line, number)| Value::new(*number, line.kind()))
                .collect(),
        })
    }

    fn in_unit(&self, number: f64, kind: Kind) -> f64 {
        // That it fits has been looked at.
        Value::new(number, kind).to(&self.unit).unwrap_or(f64::NAN)
    }

    /// The answer's unit.
    pub fn unit(&self) -> &Unit {
        &self.unit
    }
}

/// A figure's number in base units; reading a deck or an answer excludes that it has none.
pub(crate) fn base_number(figure: &Quantity) -> f64 {
    Value::of(figure).map_or(f64::NAN, |value| value.base_number())
}

fn formula(
    text: &str,
    names: &[(String, Option<Kind>)],
    part: Part,
    faults: &mut Vec<(Part, Fault)>,
) -> Option<Formula> {
    let found = Expression::parse(text).and_then(|expression| Formula::new(&expression, names));
    match found {
        Ok(formula) => Some(formula),
        // What follows from a fault that has been told is not told as well.
        Err(error) if error.is_consequence() => None,
        Err(error) => {
            faults.push((part, Fault::Formula(error)));
            None
        }
    }
}
