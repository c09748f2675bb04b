//! `empty-text`: a text with nothing in it.
//!
//! Why: There would be nothing to read or to match.
//!
//! Example:
//! ```toml
//! ask = " "
//! ```
//! To mend it: write the text, or take the key out where it is not needed.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "empty-text",
    "a text with nothing in it",
    "write the text, or take the key out where it is not needed",
);

pub(crate) fn found(site: Site, key: &str) -> Found {
    CHECK.at(site, format!("`{key}` is empty"), "write the text, or take it out if it is not needed")
}

/// An entry of a list.
pub(crate) fn entry(site: Site, key: &str) -> Found {
    CHECK.at(site, format!("an entry of `{key}` is empty"), "write the text, or take the entry out")
}
