//! The kinds of card that are answered in the column of a sitting, aloud or typed: one file for each, and the one list of
//! them. All other kinds take the whole sheet, as in a watch.

mod figure;
mod recall;

use eframe::egui::Ui;

use crate::app::program::command::Command;
use crate::present::OralView;
use crate::present::kinds::{AskedView, MarkedView};
use crate::present::result::ResultView;
use crate::ui::keys::Hot;
use crate::ui::screens::card::typed::Typed;

/// A question that is answered in the column.
pub(super) trait Spoken {
    /// The key that hands in what is typed.
    fn hand_in(&self) -> Hot;

    /// How high the place of the answer is at the least, without the ways to answer under it.
    fn least(&self, ui: &Ui, view: &OralView) -> f32;

    /// Draws the place of the answer, in a height.
    fn answer_ui(&self, ui: &mut Ui, view: &OralView, typed: &mut Typed, free: f32) -> Option<Command>;
}

/// An answer that is shown in the column once it is marked.
pub(super) trait Heard {
    /// Draws what was found in it, and what it comes to.
    fn marked_ui(&self, ui: &mut Ui, view: &OralView, result: &ResultView) -> Option<Command>;
}

/// The question, where it is answered in the column.
pub(super) fn asked(view: &AskedView) -> Option<&dyn Spoken> {
    match view {
        AskedView::Recall(view) => Some(view),
        AskedView::Figure(view) => Some(view),
        _ => None,
    }
}

/// The marked answer, where it is shown in the column.
pub(super) fn marked(view: &MarkedView) -> Option<&dyn Heard> {
    match view {
        MarkedView::Recall(view) => Some(view),
        MarkedView::Figure(view) => Some(view),
        _ => None,
    }
}
