//! What a working card defines. Immutable once read; its formulas have been found sound by the deck's reader.

use crate::domain::quantity::{Quantity, Unit, Within};

/// A working may have this many givens.
pub const MOST_GIVENS: usize = 24;
/// A working's method may have this many lines.
pub const MOST_LINES: usize = 40;
/// A working may know this many slips.
pub const MOST_SLIPS: usize = 24;

/// A calculation with figures drawn afresh at every attempt.
#[derive(Debug, Clone, PartialEq)]
pub struct Working {
    /// In the order of the file, at most [`MOST_GIVENS`].
    pub givens: Vec<Given>,
    /// The method, line by line, at most [`MOST_LINES`]. A line uses givens and the lines above it.
    pub lines: Vec<Line>,
    /// What the answer is: an expression, often the name of a line.
    pub answer: String,
    /// The unit that the answer is shown in.
    pub unit: String,
    /// The unit that the question asks for, where the answer is a rate: tonnes, of the tonnes in a day.
    pub asks: Option<Box<Asks>>,
    /// How near is right.
    pub within: Within,
    /// Known wrong ways, at most [`MOST_SLIPS`].
    pub slips: Vec<Slip>,
}

/// What a question asks for where the answer is a rate: "how many tonnes in a day" may be answered with tonnes.
#[derive(Debug, Clone, PartialEq)]
pub struct Asks {
    /// The unit asked for.
    pub unit: Unit,
    /// What stands above the line in the answer's unit.
    pub above: Unit,
}

impl Asks {
    /// What is asked for, where it is what stands above the line in the answer's unit; none where it is not.
    pub fn of(unit: Unit, answer: &str) -> Option<Self> {
        let (above, _) = answer.split_once('/')?;
        let above = Unit::parse(above).ok().filter(|above| !above.is_bare() && above.dimension == unit.dimension)?;
        Some(Self { unit, above })
    }
}

/// A figure that is drawn on round steps.
#[derive(Debug, Clone, PartialEq)]
pub struct Given {
    /// Name of the figure in formulas and, in braces, in the question.
    pub name: String,
    /// Name of the figure for people, such as `Mean indicated pressure`.
    pub say: String,
    /// The least.
    pub from: Quantity,
    /// The greatest.
    pub to: Quantity,
    /// From one figure to the next; a difference, for temperatures.
    pub step: Quantity,
}

/// A line of the method.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// Name of the line, for the lines below it.
    pub name: String,
    /// Expression of the line.
    pub is: String,
}

/// A known wrong way, recognised in the answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Slip {
    /// What the answer comes to on it.
    pub is: String,
    /// What to tell the learner.
    pub tell: String,
}
