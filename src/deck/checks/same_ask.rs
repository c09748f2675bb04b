//! `same-ask`: two cards that ask the same.
//!
//! Why: The learner could not know which answer is wanted. Case, spaces and punctuation make no difference.
//!
//! Example:
//! ```toml
//! ask = "What trips first?"
//! # and in another card
//! ask = "what trips first"
//! ```
//! To mend it: make one card of the two, or say in each question what is different.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "same-ask",
    "two cards that ask the same",
    "make one card of the two, or say in each question what is different",
);

/// `first` says where the first stands.
pub(crate) fn found(site: Site, first: &str) -> Found {
    CHECK.at(
        site,
        format!("this asks the same as {first}"),
        "make one card of the two, or say in the question what is different",
    )
}
