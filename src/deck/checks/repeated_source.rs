//! `repeated-source`: a card that cites the same source twice.
//!
//! Why: Probably another source was meant.
//!
//! Example:
//! ```toml
//! sources = ["solas", "solas"]
//! ```
//! To mend it: take one out or name the other source.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "repeated-source",
    "a card that cites the same source twice",
    "take one out or name the other source",
);

pub(crate) fn found(site: Site, key: &str) -> Found {
    let shown: String = key.chars().take(60).collect();
    CHECK.at(site, format!("the source `{shown}` is named twice"), "take one out, or name the source that was meant")
}
