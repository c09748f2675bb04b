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
    /// The formula cannot be read or has no value.
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

/// Room for a run, kept from one to the next.
#[derive(Debug, Default)]
pub struct Room {
    /// The givens' numbers in base units, then the lines'.
    pub numbers: Vec<f64>,
    stack: Vec<f64>,
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
        let numbers: Vec<f64> = figures.iter().map(base_number).collect();
        self.work_on(&numbers, None)
    }

    /// Works the method on the givens' numbers in base units, with the value of one line (from 0) put in its place.
    ///
    /// # Errors
    /// As [`Method::work`].
    pub fn work_on(&self, givens: &[f64], instead: Option<(usize, f64)>) -> Result<Worked, (Part, ExpressionError)> {
        let mut room = Room { numbers: givens.to_vec(), ..Room::default() };
        let answer = self.run(&mut room, instead, &mut |_| {})?;
        let numbers = &room.numbers[givens.len()..];
        let lines = self.lines.iter().zip(numbers).map(|(line, number)| Value::new(*number, line.kind())).collect();
        let slips = (0..self.slips.len()).map(|at| self.slip(at, &mut room)).collect();
        Ok(Worked { lines, answer, slips })
    }

    /// The answer in the card's unit, on the givens' numbers in `room`, to which the lines' are added. `divisor` is
    /// told of everything that is divided by, in the order of lines and answer.
    ///
    /// # Errors
    /// As [`Method::work`].
    pub fn run(
        &self,
        room: &mut Room,
        instead: Option<(usize, f64)>,
        divisor: &mut impl FnMut(f64),
    ) -> Result<f64, (Part, ExpressionError)> {
        for (at, line) in self.lines.iter().enumerate() {
            let number = match instead {
                Some((other, number)) if other == at => number,
                _ => line
                    .run_watched(&room.numbers, &mut room.stack, divisor)
                    .map_err(|error| (Part::Line(at), error))?,
            };
            room.numbers.push(number);
        }
        let answer =
            self.answer.run_watched(&room.numbers, &mut room.stack, divisor).map_err(|error| (Part::Answer, error))?;
        Ok(self.in_unit(answer, self.answer.kind()))
    }

    /// What a slip comes to in the card's unit, on the numbers of givens and lines in `room`; none where it has no
    /// value.
    pub fn slip(&self, at: usize, room: &mut Room) -> Option<f64> {
        let slip = self.slips.get(at)?;
        Some(self.in_unit(slip.run(&room.numbers, &mut room.stack).ok()?, slip.kind()))
    }

    fn in_unit(&self, number: f64, kind: Kind) -> f64 {
        // That it fits has been looked at.
        Value::new(number, kind).to(&self.unit).unwrap_or(f64::NAN)
    }

    /// How much work one draw is, in steps of arithmetic.
    pub fn work_size(&self) -> usize {
        self.lines.iter().chain([&self.answer]).chain(&self.slips).map(Formula::work).sum()
    }

    /// The answer's unit.
    pub fn unit(&self) -> &Unit {
        &self.unit
    }
}

/// A figure's number in base units; reading a deck or an answer excludes that it has none.
pub fn base_number(figure: &Quantity) -> f64 {
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
