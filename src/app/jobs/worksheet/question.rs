//! A worksheet as it is asked, and what its lines come to.

use crate::domain::quantity::Quantity;
use crate::present::worksheet::LineResult;

/// What is to be worked out.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Question {
    /// The figures given, by name.
    pub givens: Vec<(String, Quantity)>,
    /// The unit that results are given in where they fit: the answer's.
    pub unit: Option<String>,
    /// How near the answer must be, as a share of it; zero for exactly. A value that is taken over as the answer has
    /// as many digits as that needs.
    pub within: f64,
    /// The lines, as typed.
    pub lines: Vec<String>,
}

/// What a line comes to.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LineReport {
    /// The line's value, or why there is none.
    pub result: LineResult,
    /// What is to be noted of it, in a sentence; empty for nothing.
    pub note: String,
}

/// Works a worksheet out: one report for each line.
pub type WorkOut = fn(&Question) -> Vec<LineReport>;
