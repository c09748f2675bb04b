//! Sequences: runs, orders, explanations.

pub mod brute;
pub mod card;
pub mod decks;
pub mod explain;
pub mod orders;
pub mod procedures;
pub mod run;
pub mod watch;
