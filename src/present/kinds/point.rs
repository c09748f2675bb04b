//! A point card as data to draw: the drawing with its parts.

use crate::present::drawing::DrawingView;

/// What is shown while a card of this kind is asked.
pub type Asked = PointAskedView;

/// What is shown of a card of this kind once it is marked.
pub type Marked = PointMarkedView;

/// Before the answer.
#[derive(Debug, Clone, PartialEq)]
pub struct PointAskedView {
    /// The drawing.
    pub drawing: DrawingView,
    /// For faces that cannot draw: parts to choose from by how they look; empty where they cannot be told apart so.
    pub choice: Vec<Choice>,
}

/// A part that can be chosen by how it looks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Choice {
    /// Id of the part.
    pub id: String,
    /// Where it lies and how it looks, without its name.
    pub look: String,
}

/// After it.
#[derive(Debug, Clone, PartialEq)]
pub struct PointMarkedView {
    /// The drawing.
    pub drawing: DrawingView,
    /// The part that was asked for, by its number in the drawing.
    pub target: usize,
    /// The part that was pointed at.
    pub pointed: Option<usize>,
    /// Whether the right part was pointed at.
    pub hit: bool,
    /// One sentence that names both.
    pub reason: String,
}
