//! `control-character`: a control character.
//!
//! Why: It is not seen, it cannot be typed, and it can upset a terminal.
//!
//! Example:
//! ```toml
//! ask = "What\u0007 trips first?"
//! ```
//! To mend it: delete it and type the text again at that place.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::error("control-character", "a control character", "delete it and type the text again at that place");

pub(crate) fn found(site: Site, sign: char) -> Found {
    CHECK.at(
        site,
        format!("a control character (U+{:04X}) stands here", u32::from(sign)),
        "delete it and type the text again at this place",
    )
}
