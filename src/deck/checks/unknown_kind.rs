//! `unknown-kind`: a table that is no kind of card.
//!
//! Why: Nothing in it would be asked.
//!
//! Example:
//! ```toml
//! [[recal]]
//! ```
//! To mend it: write one of the kinds that the manual names.

use crate::deck::problem::{Check, Found, Site};
use crate::deck::suggest;

pub(crate) const CHECK: Check =
    Check::error("unknown-kind", "a table that is no kind of card", "write one of the kinds that the manual names");

/// `kinds` are the kinds of card, and whatever else may stand at the top of this file.
pub(crate) fn found(site: Site, word: &str, kinds: &[&str]) -> Found {
    let shown: String = word.chars().take(60).collect();
    CHECK.at(site, format!("there is no kind of card called `{shown}`"), suggest::mend(word, kinds.iter().copied()))
}

/// Sources in a card file.
pub(crate) fn source_in_card_file(site: Site) -> Found {
    CHECK.at(site, "sources cannot stand in a card file", "move them to deck.toml")
}
