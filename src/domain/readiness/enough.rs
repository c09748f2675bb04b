//! When a chance of passing may be said at all.
//!
//! A number that rests on a handful of answers is a promise, whatever range stands beside it. So none is said before
//! either one mock oral has been finished (ended, with at least half of its lead questions answered), or
//! [`LEAST_CARDS`] different cards that the oral may ask have been answered, with at least [`LEAST_IN_FUNCTION`] in each
//! function that it asks; and none is said while the range is wider than [`WIDEST`].

use super::exam::Exam;

/// So many different cards must have been answered, where no mock oral has been finished.
pub const LEAST_CARDS: usize = 40;
/// And so many in each function that is asked, where it has so many.
pub const LEAST_IN_FUNCTION: usize = 3;
/// A range that is wider than this says nothing (its ends, as chances from 0 to 1).
pub const WIDEST: f64 = 0.90;
/// How many more cards are asked for where only the range is too wide.
const MORE: usize = 20;

/// How much of the oral has been answered.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Coverage {
    /// For each function, by the caller's own numbers, the different cards answered.
    pub by_function: Vec<usize>,
    /// Mock orals finished.
    pub orals: usize,
}

/// What is missing before a chance may be said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Needs {
    /// About so many more different cards.
    pub cards: usize,
    /// So many functions are to be among them of which too little has been answered.
    pub functions: usize,
    /// So much has been answered that a chance could be said, but its range is too wide.
    pub wide: bool,
}

/// The chance of passing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// The chance is less than this one time in twenty.
    pub low: f64,
    /// The mean of what is believed.
    pub middle: f64,
    /// The chance is more than this one time in twenty.
    pub high: f64,
}

/// A chance of passing, or what is missing before one may be said.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Chance {
    /// As a range.
    Said(Range),
    /// Not yet.
    NotYet(Needs),
}

impl Coverage {
    /// What is missing before a chance for `exam` may be said, the width of its range aside.
    pub fn needs(&self, exam: &Exam) -> Option<Needs> {
        if self.orals > 0 {
            return None;
        }
        let answered = |function: usize| self.by_function.get(function).copied().unwrap_or(0);
        let short: Vec<usize> = exam
            .parts
            .iter()
            .map(|part| LEAST_IN_FUNCTION.min(part.pool.len()).saturating_sub(answered(part.function)))
            .filter(|missing| *missing > 0)
            .collect();
        let all: usize = exam.parts.iter().map(|part| answered(part.function)).sum();
        let there_are: usize = exam.parts.iter().map(|part| part.pool.len()).sum();
        let cards = LEAST_CARDS.min(there_are).saturating_sub(all).max(short.iter().sum());
        (cards > 0 || exam.parts.is_empty()).then_some(Needs { cards, functions: short.len(), wide: false })
    }

    /// The range as it may be said: by the rule at the head of this file.
    pub fn say(&self, exam: &Exam, range: Range) -> Chance {
        match self.needs(exam) {
            Some(needs) => Chance::NotYet(needs),
            None if range.high - range.low > WIDEST => Chance::NotYet(Needs { cards: MORE, functions: 0, wide: true }),
            None => Chance::Said(range),
        }
    }
}

impl Chance {
    /// The range, where one may be said.
    pub fn range(self) -> Option<Range> {
        match self {
            Chance::Said(range) => Some(range),
            Chance::NotYet(_) => None,
        }
    }

    /// What is missing, where none may be said.
    pub fn needs(self) -> Option<Needs> {
        match self {
            Chance::Said(_) => None,
            Chance::NotYet(needs) => Some(needs),
        }
    }
}
