//! Marking: an answer to a card becomes an outcome with its reasons.

use serde::Serialize;

use crate::domain::answer::Answer;
use crate::domain::card::Card;
use crate::domain::outcome::Outcome;

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
}

/// One key point's mark.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PointMark {
    /// It counts as said.
    pub said: bool,
    /// The words of the answer that matched.
    pub evidence: Option<String>,
    /// The answer denies it, turns it round or gives another value.
    pub contradicted: bool,
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

/// An answer that cannot be marked: an error of the call, not of the learner.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct AnswerError {
    /// What is wrong with it and how to mend it.
    pub message: String,
}

/// Marks an answer.
///
/// # Errors
/// Where the answer's form does not fit the card's kind, or names a position that the card does not have or
/// names one twice.
pub fn mark(card: &Card, answer: &Answer) -> Result<Marking, AnswerError> {
    let _ = (card, answer);
    todo!("marking branch")
}
