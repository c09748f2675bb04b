//! `unreadable-file`: a file of the deck cannot be read.
//!
//! Why: The system refused it, or it is no ordinary file.
//!
//! Example:
//! ```toml
//! # a card file without read permission
//! ```
//! To mend it: give the file read permission, or take it out of the deck.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "unreadable-file",
    "a file of the deck cannot be read",
    "give the file read permission, or take it out of the deck",
);

pub(crate) fn found(site: Site, why: &str) -> Found {
    CHECK.at(
        site,
        format!("the file could not be read: {why}"),
        "see to the file's permissions, or take it out of the deck",
    )
}
