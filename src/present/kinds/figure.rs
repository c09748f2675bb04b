//! A figure card as data to draw: the field's hint, then the figure beside the right one.

use crate::present::tone::Tone;

/// What is shown while a card of this kind is asked.
pub type Asked = FigureAskedView;

/// What is shown of a card of this kind once it is marked.
pub type Marked = FigureMarkedView;

/// A field for a figure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FigureAskedView {
    /// What the answer is asked in, such as `any unit of pressure`; empty where nothing is to be said.
    pub hint: String,
}

/// A figure beside the right one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FigureMarkedView {
    /// As typed.
    pub given: String,
    /// The right value as the deck writes it, with its tolerance in words.
    pub expected: String,
    /// `2.5 % too high`, `within 1 bar`; empty where the dimension is wrong.
    pub error: String,
    /// What the slip was, in a sentence.
    pub tell: Option<String>,
    /// Whether it is right: `Good`, `Weak` for a slip of unit, `Bad`.
    pub tone: Tone,
}
