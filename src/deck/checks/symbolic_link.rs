//! `symbolic-link`: a file or folder of the deck is a link.
//!
//! Why: A link could lead out of the deck, and a published deck must hold its own files.
//!
//! Example:
//! ```toml
//! # cards/air.toml -> /home/somebody/air.toml
//! ```
//! To mend it: put the file itself in its place.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::error("symbolic-link", "a file or folder of the deck is a link", "put the file itself in its place");

/// `name` relative to the deck.
pub(crate) fn found(site: Site, name: &str) -> Found {
    CHECK.at(
        site,
        format!("`{name}` is a link to another file or folder; links are not followed"),
        "put the file itself in the deck",
    )
}
