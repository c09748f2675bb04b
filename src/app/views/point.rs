//! A point card as data to draw: the drawing with its parts.

use crate::app::session::Marked;
use crate::domain::drawing::Pointing;
use crate::present::point::{PointAskedView, PointMarkedView};
use crate::present::watch::ResultView;

/// Before the answer.
pub fn asked(_pointing: &Pointing) -> PointAskedView {
    PointAskedView {}
}

/// After it.
pub fn marked(_pointing: &Pointing, _marked: &Marked, result: ResultView) -> PointMarkedView {
    PointMarkedView { result }
}

/// The parts of its remedy, each with label, text and whether it is safety-critical.
pub fn remedy(_pointing: &Pointing, _part: &mut dyn FnMut(String, String, bool)) {}
