//! A working as data to draw: givens, worksheet, method.

use crate::present::watch::ResultView;

/// Before the answer.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkingAskedView {}

/// After it.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkingMarkedView {
    /// What it comes to.
    pub result: ResultView,
}
