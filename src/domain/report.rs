//! What a learner says is wrong with a card, with what stood on the sheet then: what goes to the card's author.

use serde::{Deserialize, Serialize};

use crate::domain::answer::Answer;
use crate::domain::day::Instant;
use crate::domain::ids::CardKey;
use crate::domain::outcome::Outcome;

/// A fault in a card, as its learner tells it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CardReport {
    /// Which card.
    pub card: CardKey,
    /// When it was reported.
    pub at: Instant,
    /// What is wrong, in the learner's words.
    pub note: String,
    /// The deck's edition then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub edition: Option<u32>,
    /// What the learner had answered, where the card was marked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub answer: Option<Answer>,
    /// What that was marked as.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub marked: Option<ReportedMarking>,
}

/// How an answer was marked whose card was reported.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ReportedMarking {
    /// What it came to, before any notch.
    pub outcome: Outcome,
    /// Why, in a sentence.
    pub reason: String,
    /// Key points that counted as said, from 1.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub said: Vec<usize>,
    /// Key points that did not.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub missed: Vec<usize>,
}
