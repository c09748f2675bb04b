//! The library: all decks with the search, one deck, one card.

mod card_page;
mod deck;
mod decks;

pub(crate) use card_page::answer_ui;
pub use card_page::{CardPageLocal, card_page_ui};
pub(crate) use deck::sources_ui;
pub use deck::{DeckLocal, deck_ui};
pub use decks::{LibraryLocal, library_ui};
