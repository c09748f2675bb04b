//! What tests of several parts share.

pub mod bundled;
pub mod cards;
pub mod decks;
pub mod examiner;
pub mod home;
pub mod networks;
pub mod reader;
pub mod terminal;
pub mod time;
pub mod window;
