//! The library: all decks with the search, one deck, one card, a deck that is taken in.

mod card_page;
mod deck;
mod decks;
mod edition;
mod take_in;

pub(crate) use card_page::answer_ui;
pub use card_page::{CardPageLocal, card_page_ui};
pub(crate) use deck::sources_ui;
pub use deck::{DeckLocal, deck_ui};
pub use decks::{LibraryLocal, library_ui};
pub use edition::edition_ui;
pub use take_in::{TakeInLocal, leave_take_in, take_in_ui};
