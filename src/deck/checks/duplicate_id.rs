//! `duplicate-id`: two cards of the deck with the same id.
//!
//! Why: An id is a card's name for ever: answers are filed under it. It must be unique over all files and kinds
//! of a deck.
//!
//! Example:
//! ```toml
//! [[recall]]
//! id = "full-air"
//! [[figure]]
//! id = "full-air"
//! ```
//! To mend it: give the newer card another id.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::error("duplicate-id", "two cards of the deck with the same id", "give the newer card another id");

/// `first` says where the first stands: file and line.
pub(crate) fn found(site: Site, id: &str, first: &str) -> Found {
    CHECK.at(
        site,
        format!("another card of this deck has the id `{id}` already, in {first}"),
        "give this card another id",
    )
}
