//! `false-link-is-true`: a false link that is also a link.
//!
//! Why: It would be right and wrong at once.
//!
//! Example:
//! ```toml
//! links = ["Pump stops", "Pressure falls"]
//! false_links = ["Pump stops"]
//! ```
//! To mend it: take it out of one of the two lists.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::error("false-link-is-true", "a false link that is also a link", "take it out of one of the two lists");

pub(crate) fn found(site: Site, text: &str) -> Found {
    let shown: String = text.chars().take(60).collect();
    CHECK.at(
        site,
        format!("the false link `{shown}` is one of the links too"),
        "take it out of `false_links`, or out of `links`",
    )
}
