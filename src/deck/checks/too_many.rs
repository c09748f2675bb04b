//! `too-many`: there are more files, cards or values than are read.
//!
//! Why: Limits keep time and memory bounded, whatever the deck.
//!
//! Example:
//! ```toml
//! # a deck of 30,000 cards
//! ```
//! To mend it: make two decks of it.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::error("too-many", "there are more files, cards or values than are read", "make two decks of it");

/// Parts of one card; `what` in the plural.
pub(crate) fn of_card(site: Site, what: &str, most: usize) -> Found {
    CHECK.at(site, format!("there are more than {most} {what}; the rest was not read"), "make two or more cards of it")
}

/// `what` in the plural.
pub(crate) fn found(site: Site, what: &str, most: usize) -> Found {
    CHECK.at(site, format!("there are more than {most} {what}; the rest was not read"), "make two or more decks of it")
}
