//! A card by itself, outside of any watch: its question and its marked answer, with nothing of a learner.

use crate::app::sheet::{AnswerSheet, Stage};
use crate::app::views::kinds::{self, Laid};
use crate::domain::card::Card;
use crate::present::kinds::{AskedView, MarkedView};
use crate::present::worksheet::WorksheetView;

/// The question as it is put on this sheet, Markdown.
pub fn question(card: &Card, sheet: &AnswerSheet) -> String {
    kinds::of(card).question(card, sheet)
}

/// What stands under the question.
pub fn asked(card: &Card, sheet: &AnswerSheet) -> AskedView {
    kinds::of(card).asked(laid(card, sheet))
}

/// The marked answer; none before it is marked.
pub fn marked(card: &Card, sheet: &AnswerSheet) -> Option<MarkedView> {
    match &sheet.stage {
        Stage::Marked(marked) => Some(kinds::of(card).marked(laid(card, sheet), marked)),
        _ => None,
    }
}

fn laid<'a>(card: &'a Card, sheet: &'a AnswerSheet) -> Laid<'a> {
    Laid { card, sheet, drawing: None, worksheet: WorksheetView::default(), withheld: false, missing_told: true }
}
