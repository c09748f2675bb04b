//! The watch: its front page and its end. What lies between is a card.

mod end;
mod front;

pub use end::watch_end_ui;
pub use front::watch_front_ui;
