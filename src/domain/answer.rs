//! What a learner gives to a card, in the form of `bedplate try` and of the evidence kept with an attempt.

use serde::{Deserialize, Serialize};

/// An answer to a card. Positions count from 1. `seconds` is the time it took, where known.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Answer {
    /// What was given.
    #[serde(flatten)]
    pub given: Given,
    /// The time it took.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seconds: Option<f64>,
}

/// What was given, by form.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Given {
    /// Typed words (recall) or a typed figure.
    Text(String),
    /// Key points ticked as said, by number.
    Said(Vec<usize>),
    /// A why's links in the order given, by position in links then false links.
    Links(Vec<usize>),
    /// A sequence's steps in the order given, by key.
    Steps(Vec<String>),
}

impl Answer {
    /// An answer with no time.
    pub fn of(given: Given) -> Self {
        Self { given, seconds: None }
    }
}
