//! What markings of several kinds hold, as plain data.

use serde::Serialize;

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
