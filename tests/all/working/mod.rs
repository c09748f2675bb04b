//! Workings and worksheets.

pub mod cards;
pub mod credit;
pub mod decks;
pub mod props;
pub mod watch;
pub mod worksheet;
