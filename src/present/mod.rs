//! Pure view data: domain values become titles, rows, figures and tones. No egui, no engine, no file.
//!
//! Plain structs that hold all that a screen shows, so that what is shown can be tested as text, and the
//! functions that make them. A tone is a meaning, never a colour. Primitives (tone, block, notice, result, words) import
//! nothing of this room; kinds and pages import primitives; `shell` stands on top of all.

pub mod block;
pub mod bring_over;
pub mod class;
pub mod class_page;
pub mod clock;
pub mod columns;
pub mod competence;
pub mod debrief;
pub mod document;
pub mod drawing;
pub mod editions;
pub mod first_run;
pub mod kinds;
pub mod knowing;
pub mod labelled;
pub mod library;
pub mod notice;
pub mod oral;
pub mod pages;
pub mod picture;
pub mod plan;
pub mod progress;
pub mod report;
pub mod result;
pub mod shell;
pub mod stage;
pub mod taking_in;
pub mod tone;
pub mod watch;
pub mod words;
pub mod worksheet;
pub mod writing;

pub use block::TitleBlock;
pub use bring_over::BringOverView;
pub use class_page::ClassPageView;
pub use clock::ClockView;
pub use competence::CompetenceView;
pub use debrief::DebriefView;
pub use editions::EditionView;
pub use first_run::FirstRunView;
pub use knowing::KnowingView;
pub use labelled::Labelled;
pub use library::{CardPageView, DeckView, LibraryView};
pub use notice::Notice;
pub use oral::{BlueprintView, OralFrontView, OralView};
pub use pages::{AboutView, ProfilesView, SettingsView, TroubleView};
pub use picture::{Image, PictureState, PictureView};
pub use plan::PlanView;
pub use shell::{Place, ShellView, View};
pub use stage::{Marked, Stage};
pub use taking_in::TakeInView;
pub use tone::Tone;
pub use watch::{WatchCardView, WatchEndView, WatchFrontView};
pub use worksheet::WorksheetPageView;
