//! `no-source`: a card with no source.
//!
//! Why: Every fact must say where it comes from; common practice is a source too, when it is said plainly.
//!
//! Example:
//! ```toml
//! sources = []
//! ```
//! To mend it: name at least one key of deck.toml's sources; for common practice make a source of kind
//! "practice".

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "no-source",
    "a card with no source",
    "name at least one key of deck.toml's sources; for common practice make a source of kind \"practice\"",
);

pub(crate) fn found(site: Site) -> Found {
    CHECK.at(
        site,
        "this card has no source",
        "name at least one: sources = [\"key-of-a-source\"]; common practice is a source of kind \"practice\"",
    )
}
