//! Sample answers: what a card's writer wants the marker to make of an answer, and where it makes something else of it.

use std::fmt;

use crate::domain::answer::Given;
use crate::domain::marking::{Marking, PointMark, SlipKind};
use crate::domain::outcome::Outcome;

/// An answer to a card, with what its writer expects the marker to find in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Sample {
    /// What is answered.
    pub answer: SampleAnswer,
    /// The time that it took, where that is said.
    pub seconds: Option<f64>,
    /// What must be found.
    pub expected: Expected,
}

/// The answer of a sample.
#[derive(Debug, Clone, PartialEq)]
pub enum SampleAnswer {
    /// As the deck writes it.
    Given(Given),
    /// An order of a sequence's steps that the program finds by itself.
    OneThatWorks,
}

/// What must be found in an answer; what is not named may be either way. Points count from 1.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Expected {
    /// Points that must be found said.
    pub says: Vec<usize>,
    /// Points that must be found denied.
    pub denies: Vec<usize>,
    /// What the answer must come to.
    pub outcome: Option<Outcome>,
    /// The slip that must be recognised in it.
    pub slip: Option<SlipKind>,
}

/// Something that the marker found otherwise than the sample expects it.
#[derive(Debug, Clone, PartialEq)]
pub enum Difference {
    /// A point that should be said is not.
    NotSaid {
        /// From 1.
        point: usize,
        /// The words that were taken for a denial of it, where it was taken for denied; empty where none are known.
        denied_by: Option<String>,
    },
    /// A point that should be denied is not.
    NotDenied {
        /// From 1.
        point: usize,
        /// The words that were taken to say it, where it was taken for said; empty where none are known.
        said_by: Option<String>,
    },
    /// Another outcome.
    Outcome {
        /// As the sample has it.
        expected: Outcome,
        /// As it was marked.
        found: Outcome,
        /// The marker's reason.
        reason: String,
    },
    /// Another slip, or none.
    Slip {
        /// As the sample has it.
        expected: SlipKind,
        /// As it was marked.
        found: Option<SlipKind>,
    },
}

impl Expected {
    /// Whether nothing at all is expected.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

impl Sample {
    /// All that a marking of its answer has otherwise than expected: points in the order of the sample, then the rest.
    pub fn differences(&self, marking: &Marking) -> Vec<Difference> {
        let points = marking.detail.points().unwrap_or_default();
        let mark = |point: usize| point.checked_sub(1).and_then(|at| points.get(at));
        let words = |is: bool, mark: &PointMark| is.then(|| mark.evidence.clone().unwrap_or_default());
        let not_said = self.expected.says.iter().filter(|point| !mark(**point).is_some_and(|mark| mark.said));
        let not_said = not_said.map(|point| Difference::NotSaid {
            point: *point,
            denied_by: mark(*point).and_then(|mark| words(mark.contradicted, mark)),
        });
        let not_denied = self.expected.denies.iter().filter(|point| !mark(**point).is_some_and(|m| m.contradicted));
        let not_denied = not_denied.map(|point| Difference::NotDenied {
            point: *point,
            said_by: mark(*point).and_then(|mark| words(mark.said, mark)),
        });
        not_said.chain(not_denied).chain(self.other_outcome(marking)).chain(self.other_slip(marking)).collect()
    }

    fn other_outcome(&self, marking: &Marking) -> Option<Difference> {
        let found = marking.outcome;
        let (expected, differs) = match (self.expected.outcome, &self.answer) {
            (Some(expected), _) => (expected, found != expected),
            // An order that works is all that is asked, in time or not.
            (None, SampleAnswer::OneThatWorks) => (Outcome::Answered, found < Outcome::Answered),
            (None, SampleAnswer::Given(_)) => return None,
        };
        differs.then(|| Difference::Outcome { expected, found, reason: marking.reason.clone() })
    }

    fn other_slip(&self, marking: &Marking) -> Option<Difference> {
        let expected = self.expected.slip?;
        let found = marking.detail.slip().map(|slip| slip.kind);
        (found != Some(expected)).then_some(Difference::Slip { expected, found })
    }
}

impl fmt::Display for Difference {
    /// A clause that says what was found instead, such as `point 2 was not said`.
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        let by = |words: &str| if words.is_empty() { String::new() } else { format!(" by \"{}\"", shown(words)) };
        match self {
            Self::NotSaid { point, denied_by: None } => write!(to, "point {point} was not said"),
            Self::NotSaid { point, denied_by: Some(words) } => {
                write!(to, "point {point} was taken for denied{}, not for said", by(words))
            }
            Self::NotDenied { point, said_by: None } => write!(to, "point {point} was not taken for denied"),
            Self::NotDenied { point, said_by: Some(words) } => {
                write!(to, "point {point} was taken for said{}, not for denied", by(words))
            }
            Self::Outcome { expected, found, reason } => {
                let (expected, found) = (expected.word().to_lowercase(), found.word().to_lowercase());
                write!(to, "the outcome was `{found}`, not `{expected}` ({})", reason.trim_end_matches('.'))
            }
            Self::Slip { expected, found: Some(found) } => {
                write!(to, "the slip was `{}`, not `{}`", found.word(), expected.word())
            }
            Self::Slip { expected, found: None } => write!(to, "no slip was found, not `{}`", expected.word()),
        }
    }
}

/// As much of the answer's words as a message holds.
fn shown(words: &str) -> String {
    const MOST: usize = 60;
    let start: String = words.chars().take(MOST).collect();
    if words.chars().count() > MOST { format!("{start}...") } else { start }
}
