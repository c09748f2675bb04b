//! The card in play: its sheet, and the watch that lays one after the other.

mod after;
mod answer_sheet;
mod desk;
mod edit;
mod kinds;
mod watch;

pub use after::{AfterCheck, AfterRun};
pub use answer_sheet::{AnswerSheet, Explaining, Marked, Stage};
pub use desk::{AtWork, Desk, Practice};
pub use edit::EditWorksheet;
pub use watch::Session;

// Paths and names of before, for views and for the sitting.
pub use crate::domain::card::is_about_a_run;
pub use answer_sheet::AnswerSheet as Sheet;
