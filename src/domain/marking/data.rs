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
    /// The answer may say it: whoever gave it is asked. Until then it does not count.
    #[serde(skip_serializing_if = "is_false")]
    pub unsure: bool,
    /// What it was decided by; none where only the matcher of words has read the answer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub scores: Option<Scores>,
}

/// What a point of a typed answer was decided by, in thousandths from 0 to 1,000.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Scores {
    /// The chance that it is said, after the rule that joins both readers.
    pub said: u16,
    /// The chance that it is denied, likewise.
    pub denied: u16,
    /// How likely the trained reader by itself held it for said.
    pub read_said: u16,
    /// How likely the trained reader by itself held it for denied.
    pub read_denied: u16,
    /// The matcher of words found it said.
    pub matched: bool,
    /// The matcher of words found it contradicted.
    pub opposed: bool,
}

impl PointMark {
    /// A point that is said or not, without words to show for it.
    pub fn ticked(said: bool) -> Self {
        Self { said, evidence: None, contradicted: false, unsure: false, scores: None }
    }
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands it over so")]
fn is_false(value: &bool) -> bool {
    !*value
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
