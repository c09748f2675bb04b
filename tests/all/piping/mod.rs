//! Line-ups: networks, judgement, schematics.

pub mod brute;
pub mod card;
pub mod decks;
pub mod examine;
pub mod networks;
pub mod schematic;
pub mod watch;
