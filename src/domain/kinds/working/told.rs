//! What the marking of a working tells.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::domain::marking::Slip;

/// What only the marking of a working tells: a calculation compared.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Told {
    /// The figures it was worked with, by name.
    pub givens: BTreeMap<String, String>,
    /// The method's lines with their values.
    pub lines: Vec<LineValue>,
    /// The right answer in the card's unit.
    pub expected: String,
    /// The relative error, without sign; none where the dimension is wrong.
    pub error: Option<f64>,
    /// A known slip.
    pub slip: Option<Slip>,
    /// How the worksheet's lines stand against the method; empty where none were given.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub worksheet: Vec<WorkMark>,
}

/// A line of the method with its value.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LineValue {
    /// The line's name.
    pub name: String,
    /// The line's value, readable, with its unit.
    pub value: String,
}

/// How a line of the learner's worksheet stands against the method.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct WorkMark {
    /// As typed.
    pub text: String,
    /// The line's value, readable; none where it has none.
    pub value: Option<String>,
    /// The line of the method that it agrees with, by name; `answer` for the answer itself.
    pub agrees: Option<String>,
    /// What is wrong with it, where that is known.
    pub tell: Option<String>,
}
