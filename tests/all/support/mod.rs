//! What tests of several parts share.

pub mod bundled;
pub mod decks;
pub mod networks;
pub mod terminal;
pub mod time;
pub mod window;
