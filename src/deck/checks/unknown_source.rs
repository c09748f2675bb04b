//! `unknown-source`: a card cites a source that the deck does not have.
//!
//! Why: Every fact must be traceable.
//!
//! Example:
//! ```toml
//! sources = ["solas-2-1"]
//! ```
//! To mend it: add a [source.key] table to deck.toml, or write the key as it stands there.

use crate::deck::problem::{Check, Found, Site};
use crate::deck::suggest;

pub(crate) const CHECK: Check = Check::error(
    "unknown-source",
    "a card cites a source that the deck does not have",
    "add a [source.key] table to deck.toml, or write the key as it stands there",
);

pub(crate) fn found<'a>(site: Site, key: &str, keys: impl Iterator<Item = &'a str> + Clone) -> Found {
    let shown: String = key.chars().take(60).collect();
    let mend = match suggest::nearest(key, keys) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("add [source.{shown}] with its title and kind to deck.toml"),
    };
    CHECK.at(site, format!("the deck has no source `{shown}`"), mend)
}
