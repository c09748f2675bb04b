//! Writing a deck: choosing it, its cards with their problems, how an answer is marked, a card in its form.

mod desk;
mod form;
mod front;
mod hand;
mod heads;
mod list;
mod network;
mod plant;
mod points;
mod side;
mod told;

pub use desk::{DeskLocal, write_desk_ui};
pub use form::{FormLocal, write_form_ui};
pub use front::{FrontLocal, write_front_ui};
pub use told::write_told_ui;
