//! `missing-detail`: a deck that does not say its language, its publisher or its licence.
//!
//! Why: Learners and other instructors must know whose deck it is and what they may do with it.
//!
//! Example:
//! ```toml
//! # no licence in deck.toml
//! ```
//! To mend it: add the key to deck.toml.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "missing-detail",
    "a deck that does not say its language, its publisher or its licence",
    "add the key to deck.toml",
);

pub(crate) fn found(site: Site, key: &str, sample: &str) -> Found {
    CHECK.at(site, format!("the deck does not say its `{key}`"), format!("add {sample}"))
}
