//! `empty-deck`: a deck with no cards.
//!
//! Why: There is nothing to learn in it. Card files stand beside deck.toml or in cards/, and end in .toml.
//!
//! Example:
//! ```toml
//! # deck.toml alone
//! ```
//! To mend it: add cards, or look whether the card files are where they are read.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "empty-deck",
    "a deck with no cards",
    "add cards, or look whether the card files are where they are read",
);

pub(crate) fn found(site: Site) -> Found {
    CHECK.at(site, "the deck has no cards", "add card files (*.toml) beside deck.toml or in cards/")
}
