//! A line-up as data to draw: the schematic, before and after the check.

use crate::present::watch::ResultView;

/// Before the answer.
#[derive(Debug, Clone, PartialEq)]
pub struct LineupAskedView {}

/// After it.
#[derive(Debug, Clone, PartialEq)]
pub struct LineupCheckedView {
    /// What it comes to.
    pub result: ResultView,
}
