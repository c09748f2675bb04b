//! Units and numbers: the only caller of the unit engine.

/// A number with its unit as written (empty for a pure number).
#[derive(Debug, Clone, PartialEq)]
pub struct Quantity {
    /// The number, in `unit`.
    pub number: f64,
    /// The unit as the deck or the learner wrote it, in its standard spelling.
    pub unit: String,
}
