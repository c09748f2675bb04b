//! `shared-phrase`: the same phrase in two key points of a card.
//!
//! Why: One phrase of the answer would count for both points.
//!
//! Example:
//! ```toml
//! accept = ["low oil pressure"]   # in two points
//! ```
//! To mend it: keep the phrase at the point that it carries.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "shared-phrase",
    "the same phrase in two key points of a card",
    "keep the phrase at the point that it carries",
);

pub(crate) fn found(site: Site, phrase: &str, other: usize) -> Found {
    let shown: String = phrase.chars().take(60).collect();
    CHECK.at(site, format!("`{shown}` is a phrase of key point {other} too"), "keep it at the point that it carries")
}
