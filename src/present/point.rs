//! A point card as data to draw: the drawing with its parts.

use crate::present::watch::ResultView;

/// Before the answer.
#[derive(Debug, Clone, PartialEq)]
pub struct PointAskedView {}

/// After it.
#[derive(Debug, Clone, PartialEq)]
pub struct PointMarkedView {
    /// What it comes to.
    pub result: ResultView,
}
