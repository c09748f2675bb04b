//! What a figure card holds.

use crate::domain::quantity::{Quantity, Within};

/// A number to know.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// The right value in the card's own unit.
    pub value: Quantity,
    /// The value as the deck writes it, for people.
    pub value_text: String,
    /// How near is right.
    pub within: Within,
}
