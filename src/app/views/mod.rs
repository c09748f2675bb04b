//! From the program's state to view data: one file for each group of pages. Pure.

pub mod alone;
pub mod bring_over;
pub mod card;
pub mod clock;
pub mod competence;
pub mod debrief;
pub mod editions;
pub mod end;
pub mod front;
pub mod kinds;
pub mod knowing;
pub mod library;
pub mod oral;
pub mod pages;
pub mod plan;
pub mod progress;
pub mod shell;
pub mod taking_in;
pub mod writing;

use crate::present::PictureView;
use crate::present::drawing::DrawingView;

/// What is drawn of a card, as far as it has come.
pub struct Pictured {
    /// Picture of the card.
    pub picture: Option<PictureView>,
    /// What it points at.
    pub drawing: Option<DrawingView>,
}
