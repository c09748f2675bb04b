//! Key points: what a full answer in words must contain.

use serde::{Deserialize, Serialize};

/// One thing that a full answer must contain.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeyPoint {
    /// The point in full; counts as an accepted phrase too.
    pub say: String,
    /// Phrases that make the point.
    pub accept: Vec<String>,
    /// Phrases that deny it.
    pub reject: Vec<String>,
    /// Missing it is unsafe.
    pub critical: bool,
}

impl KeyPoint {
    /// A point that only its own sentence makes.
    pub fn plain(say: String, critical: bool) -> Self {
        Self { say, accept: Vec::new(), reject: Vec::new(), critical }
    }
}
