//! A marked answer, of any kind.

use serde::Serialize;

use crate::domain::kinds::Detail;
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
