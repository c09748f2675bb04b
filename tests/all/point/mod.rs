//! Drawings and point cards.

pub mod decks;
pub mod geometry;
pub mod hostile;
pub mod watch;
