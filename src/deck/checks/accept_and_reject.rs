//! `accept-and-reject`: a phrase that a key point both accepts and refuses.
//!
//! Why: It cannot make the point and deny it.
//!
//! Example:
//! ```toml
//! accept = ["low pressure"], reject = ["low pressure"]
//! ```
//! To mend it: take it out of one of the two, or make the refused phrase longer.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "accept-and-reject",
    "a phrase that a key point both accepts and refuses",
    "take it out of one of the two, or make the refused phrase longer",
);

pub(crate) fn found(site: Site, phrase: &str) -> Found {
    let shown: String = phrase.chars().take(60).collect();
    CHECK.at(
        site,
        format!("`{shown}` is both accepted and refused"),
        "take it out of one of the two, or make the refused phrase longer",
    )
}
