//! The library: all decks with the search, one deck, one card.

mod card_page;
mod deck;
mod decks;
mod edition;

pub use card_page::{CardPageLocal, card_page_ui};
pub use deck::{DeckLocal, deck_ui};
pub use decks::{LibraryLocal, library_ui};
pub use edition::edition_ui;
