//! A recall card as data to draw: its key points with what was said of each.

/// What is shown while a card of this kind is asked.
pub type Asked = RecallAskedView;

/// What is shown of a card of this kind once it is marked.
pub type Marked = RecallMarkedView;

/// A recall that is asked: it shows nothing but its question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RecallAskedView;

/// Key points after the answer, to be ticked or corrected.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RecallMarkedView {
    /// In the deck's order.
    pub points: Vec<PointRow>,
    /// The typed answer, where one was typed.
    pub typed: Option<String>,
}

/// A key point as a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PointRow {
    /// From 1; the digit that ticks it.
    pub number: usize,
    /// The point in full.
    pub text: String,
    /// Whether the point counts as said.
    pub said: bool,
    /// The answer denied it.
    pub contradicted: bool,
    /// It is not sure whether the answer says it: the learner is asked. Until then it does not count.
    pub unsure: bool,
    /// Missing it is unsafe.
    pub critical: bool,
    /// The learner's own words that matched, that denied it, or of which it is not sure.
    pub evidence: Option<String>,
}
