//! The card in play: its sheet, and the watch that lays one after the other.

mod after;
mod answer_sheet;
mod desk;
mod edit;
mod kinds;
mod watch;

pub use after::{AfterCheck, AfterRun};
pub use answer_sheet::{AnswerSheet, Explaining, HandedIn, Marked, Stage};
pub use desk::{AtWork, Desk, Practice, Practised, Tried};
pub use edit::EditWorksheet;
pub use watch::{Session, Slipped};
