//! What each kind of card shows, one file for a kind; and the one list of them.

pub mod figure;
pub mod lineup;
pub mod point;
pub mod recall;
pub mod sequence;
pub mod why;
pub mod working;

use figure::{FigureAskedView, FigureMarkedView};
use lineup::{LineupAskedView, LineupCheckedView};
use point::{PointAskedView, PointMarkedView};
use recall::{RecallAskedView, RecallMarkedView};
use sequence::{SequenceAskedView, SequenceRunView};
use why::{WhyAskedView, WhyMarkedView};
use working::{WorkingAskedView, WorkingMarkedView};

/// A card that is asked, by its kind.
#[derive(Debug, Clone, PartialEq)]
pub enum AskedView {
    /// Say it, then see the points; or type it.
    Recall(RecallAskedView),
    /// A field for a figure.
    Figure(FigureAskedView),
    /// Links ashore, shuffled; some belong nowhere.
    Why(WhyAskedView),
    /// Steps ashore, to be put on the procedure sheet.
    Sequence(SequenceAskedView),
    /// A schematic whose valves one sets.
    Lineup(LineupAskedView),
    /// Givens and a worksheet: also while a second try, or practice with fresh figures, is worked.
    Working(WorkingAskedView),
    /// A drawing with a part to find.
    Point(PointAskedView),
}

/// A card whose answer is marked, by its kind.
#[derive(Debug, Clone, PartialEq)]
pub enum MarkedView {
    /// The key points, to be ticked or corrected.
    Recall(RecallMarkedView),
    /// The figure beside the right one.
    Figure(FigureMarkedView),
    /// The learner's order beside the right one.
    Why(WhyMarkedView),
    /// The procedure run against the plant.
    Sequence(SequenceRunView),
    /// The schematic flooded.
    Lineup(LineupCheckedView),
    /// The lines beside the method's.
    Working(WorkingMarkedView),
    /// The part shown.
    Point(PointMarkedView),
}
