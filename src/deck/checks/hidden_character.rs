//! `hidden-character`: a sign that is not seen or that turns the direction of writing.
//!
//! Why: What is read on the screen would not be what the deck says.
//!
//! Example:
//! ```toml
//! ask = "Shut \u202Eneppo"
//! ```
//! To mend it: delete it and type the text again at that place.

use crate::deck::problem::{Check, Found, Site};
use crate::deck::signs::BadSign;

pub(crate) const CHECK: Check = Check::error(
    "hidden-character",
    "a sign that is not seen or that turns the direction of writing",
    "delete it and type the text again at that place",
);

pub(crate) fn found(site: Site, sign: char, sort: BadSign) -> Found {
    let does = if sort == BadSign::Direction { "turns the direction of writing" } else { "is not seen" };
    CHECK.at(
        site,
        format!("a sign that {does} (U+{:04X}) stands here", u32::from(sign)),
        "delete it and type the text again at this place",
    )
}
