//! A working as data to draw: givens, worksheet, method.

use crate::app::session::Marked;
use crate::domain::working::Working;
use crate::present::watch::ResultView;
use crate::present::working::{WorkingAskedView, WorkingMarkedView};

/// Before the answer.
pub fn asked(_working: &Working) -> WorkingAskedView {
    WorkingAskedView {}
}

/// After it.
pub fn marked(_working: &Working, _marked: &Marked, result: ResultView) -> WorkingMarkedView {
    WorkingMarkedView { result }
}

/// The parts of its remedy, each with label, text and whether it is safety-critical.
pub fn remedy(_working: &Working, _part: &mut dyn FnMut(String, String, bool)) {}
