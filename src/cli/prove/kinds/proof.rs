//! What can be proved of a card before anyone answers it.

use serde::Serialize;

/// What is known of a card.
pub(crate) struct Proved {
    /// For programs.
    pub(crate) json: Result<String, serde_json::Error>,
    /// For people.
    pub(crate) text: String,
}

/// A kind of card of which something can be proved.
pub(crate) trait Proof {
    /// Proves it.
    ///
    /// # Errors
    /// Where it is too complex.
    fn prove(&self) -> Result<Proved, String>;
}

impl Proved {
    pub(super) fn of(known: &impl Serialize, text: String) -> Self {
        Self { json: serde_json::to_string_pretty(known), text }
    }
}

/// Keys in a row.
pub(super) fn listed(keys: &[String]) -> String {
    if keys.is_empty() { "none".to_owned() } else { keys.join(", ") }
}
