//! What a file holds, whatever kind of file it is.

use serde_json::Value;

use crate::deck::sealed::Refusal;

/// What a file holds.
pub(super) struct Shown {
    /// Label and value.
    pub(super) rows: Vec<(&'static str, String)>,
    /// The same for programs.
    pub(super) json: Value,
    /// Why it is not as it should be.
    pub(super) refused: Option<Refusal>,
}
