//! `unknown-sign`: a sign that the program's fonts do not have.
//!
//! Why: An empty box would be shown in its place.
//!
//! Example:
//! ```toml
//! ask = "Press the ⏻ key?"
//! ```
//! To mend it: write it in words, or use another sign.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "unknown-sign",
    "a sign that the program's fonts do not have",
    "write it in words, or use another sign",
);

pub(crate) fn found(site: Site, sign: char) -> Found {
    CHECK.at(
        site,
        format!("the program's fonts have no sign {sign} (U+{:04X})", u32::from(sign)),
        "write it in words, or use another sign",
    )
}
