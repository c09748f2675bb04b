//! Markings as plain data, as `bedplate try` prints them. What only one kind has stands in one variant of [`Detail`].

use std::collections::BTreeMap;

use serde::Serialize;

use crate::domain::outcome::Outcome;
use crate::domain::plant::Severity;

/// A marked answer. Serialises to the JSON of `bedplate try`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Marking {
    /// The card's id in its deck.
    pub card: String,
    /// The kind's word.
    pub kind: &'static str,
    /// What it came to.
    pub outcome: Outcome,
    /// One sentence that says why.
    pub reason: String,
    /// What only this kind has.
    #[serde(flatten)]
    pub detail: Detail,
}

/// What only one kind of marking has.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Detail {
    /// Key points found.
    Recall {
        /// One for each of the card's points, in order.
        points: Vec<PointMark>,
    },
    /// A figure compared.
    Figure {
        /// The right value as the deck writes it.
        expected: String,
        /// The relative error, without sign, in the card's own unit; none where the dimension is wrong.
        error: Option<f64>,
        /// A known slip.
        slip: Option<Slip>,
    },
    /// Links compared.
    Why {
        /// The most true links that stand in their right order.
        in_order: usize,
        /// How many false links were used.
        false_links: usize,
    },
    /// Steps run on the plant. Steps and facts are meant by key.
    Sequence {
        /// The goal holds at the end.
        reaches_goal: bool,
        /// Steps tried with needs unmet, in the order of the list.
        breaks: Vec<BreakMark>,
        /// Traps used, in the order of the list.
        traps: Vec<String>,
        /// Needed steps that were not listed, in the order of the deck.
        left_out: Vec<String>,
        /// Fewest steps to lift out so that the rest stand in a working order of all steps; none where there is no
        /// such order, or too many to tell.
        out_of_place: Option<usize>,
        /// Fewest pairs of steps that stand the other way round; none as above.
        swaps: Option<usize>,
        /// What the plant did by itself, in order.
        events: Vec<String>,
        /// Facts that hold at the end, in the order of the deck.
        facts_after: Vec<String>,
    },
    /// Valves set. Nodes are meant by key.
    Lineup {
        /// One for each of the card's demands, in order.
        demands: Vec<DemandMark>,
        /// Every `never` that is broken.
        leaks: Vec<Leak>,
    },
    /// A calculation compared.
    Working {
        /// The figures it was worked with, by name.
        givens: BTreeMap<String, String>,
        /// The method's lines with their values.
        lines: Vec<LineValue>,
        /// The right answer in the card's unit.
        expected: String,
        /// The relative error, without sign; none where the dimension is wrong.
        error: Option<f64>,
        /// A known slip.
        slip: Option<Slip>,
        /// How the worksheet's lines stand against the method; empty where none were given.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        worksheet: Vec<WorkMark>,
    },
    /// A part pointed at.
    Point {
        /// Whether it is the part that was asked for.
        hit: bool,
        /// The part that was pointed at, by id; none where there is none.
        part: Option<String>,
    },
}

/// One demand's mark.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DemandMark {
    /// The demand's name.
    pub name: String,
    /// Whether it is met.
    pub met: bool,
    /// The path of the flow, where a `flow` is met.
    pub path: Option<Vec<String>>,
    /// The fewest that would have to be turned for a `flow` that is not met; empty where nothing would do it.
    pub blocked_by: Vec<String>,
}

/// A `never` that is broken.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Leak {
    /// The demand's name.
    pub name: String,
    /// The way it leaks.
    pub path: Vec<String>,
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

/// One key point's mark.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PointMark {
    /// Whether it counts as said.
    pub said: bool,
    /// The words of the answer that matched.
    pub evidence: Option<String>,
    /// The answer denies it, turns it round or gives another value.
    pub contradicted: bool,
}

/// A step that was tried with needs unmet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct BreakMark {
    /// The step's key.
    pub step: String,
    /// The unmet needs as the deck writes them, with `!`.
    pub without: Vec<String>,
    /// Of the first fault that fits.
    pub severity: Severity,
    /// What happens.
    pub tell: String,
}

/// A slip that the program recognises.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Slip {
    /// What sort.
    pub kind: SlipKind,
    /// What to tell the learner.
    pub tell: String,
}

/// Sorts of slip.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum SlipKind {
    /// The unit is missing, or another unit of the right dimension makes the number right.
    Unit,
    /// Wrong by a whole power of ten.
    PowerOfTen,
    /// The wrong dimension.
    Dimension,
    /// One of the card's own slips.
    Deck,
}

impl SlipKind {
    /// All of them.
    pub const ALL: [SlipKind; 4] = [SlipKind::Unit, SlipKind::PowerOfTen, SlipKind::Dimension, SlipKind::Deck];

    /// The word in markings and in deck files.
    pub fn word(self) -> &'static str {
        match self {
            SlipKind::Unit => "unit",
            SlipKind::PowerOfTen => "power-of-ten",
            SlipKind::Dimension => "dimension",
            SlipKind::Deck => "deck",
        }
    }
}

/// An answer that cannot be marked: an error of the call, not of the learner.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct AnswerError {
    /// What is wrong with it and how to mend it.
    pub message: String,
}
