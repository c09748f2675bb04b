//! A worksheet: numbered lines of expressions, each with what it comes to. It stands on a working card, and on a page of its
//! own.

pub(crate) mod lines;
mod page;
pub(crate) mod rows;

use eframe::egui::Ui;

use crate::present::worksheet::WorksheetView;
use crate::ui::screens::worksheet::lines::{Outcome, WorksheetLocal};

pub use page::{WorksheetPageLocal, key_lines, worksheet_page_ui};

/// Draws the worksheet; under it the answer, where there is one with this hint.
pub(crate) fn worksheet_ui(
    ui: &mut Ui,
    view: &WorksheetView,
    local: &mut WorksheetLocal,
    answer: Option<&str>,
) -> Outcome {
    let hand_in = local.keys(ui, view, answer.is_some());
    local.grant(ui, answer.is_some());
    local.watch(ui);
    rows::lines_ui(ui, view, local);
    if let Some(hint) = answer {
        rows::answer_ui(ui, view, local, hint);
    }
    Outcome { work: local.tell(), hand_in }
}
