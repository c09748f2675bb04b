//! `unreadable-deck`: there is no deck to read at the path given.
//!
//! Why: Only this ends with exit code 2: the path is no folder, or it holds no deck.toml that can be read.
//!
//! Example:
//! ```toml
//! # bedplate check no-such-folder
//! ```
//! To mend it: name the folder that holds deck.toml.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "unreadable-deck",
    "there is no deck to read at the path given",
    "name the folder that holds deck.toml",
);

pub(crate) fn found(site: Site, message: &str, mend: &str) -> Found {
    CHECK.at(site, message, mend)
}
