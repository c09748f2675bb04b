//! `too-large`: a file or the whole deck is larger than is read.
//!
//! Why: A deck is text; a file of many megabytes is a slip or an attack. Nothing of the file is read.
//!
//! Example:
//! ```toml
//! # a file of 9 MB
//! ```
//! To mend it: share the cards over several files, and keep pictures in pictures/.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "too-large",
    "a file or the whole deck is larger than is read",
    "share the cards over several files, and keep pictures in pictures/",
);

/// `most` in bytes.
pub(crate) fn file(site: Site, most: u64) -> Found {
    CHECK.at(
        site,
        format!("the file is larger than {} MB and was not read", most / 1024 / 1024),
        "share its cards over several files in cards/",
    )
}

/// `most` in bytes.
pub(crate) fn deck(site: Site, most: u64) -> Found {
    CHECK.at(
        site,
        format!("the deck's files together are larger than {} MB; this one was not read", most / 1024 / 1024),
        "make two decks of it",
    )
}
