//! A line-up as data to draw: the schematic, before and after the check.

use crate::app::session::Marked;
use crate::domain::piping::Network;
use crate::present::lineup::{LineupAskedView, LineupCheckedView};
use crate::present::watch::ResultView;

/// Before the answer.
pub fn asked(_network: &Network) -> LineupAskedView {
    LineupAskedView {}
}

/// After it.
pub fn checked(_network: &Network, _marked: &Marked, result: ResultView) -> LineupCheckedView {
    LineupCheckedView { result }
}

/// The parts of its remedy, each with label, text and whether it is safety-critical.
pub fn remedy(_network: &Network, _part: &mut dyn FnMut(String, String, bool)) {}
