//! What a learner writes on a worksheet, as a face tells it.

/// A worksheet as it now reads.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct EditWorksheet {
    /// All its lines, as typed.
    pub lines: Vec<String>,
    /// The answer as typed so far, on a card.
    pub answer: String,
    /// A line that was just finished, to be recalled later.
    pub entered: Option<String>,
}
