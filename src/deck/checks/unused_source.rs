//! `unused-source`: a source that no card cites.
//!
//! Why: It may have lost its card, or a card its source.
//!
//! Example:
//! ```toml
//! [source.old-rule]
//! ```
//! To mend it: cite it or take it out.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::advice("unused-source", "a source that no card cites", "cite it or take it out");

pub(crate) fn found(site: Site, key: &str) -> Found {
    CHECK.at(site, format!("no card cites the source `{key}`"), "cite it, or take it out")
}
