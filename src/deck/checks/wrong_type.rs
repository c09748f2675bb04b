//! `wrong-type`: a value of the wrong type.
//!
//! Why: Each key takes one type of value: text, a number, true or false, or a list.
//!
//! Example:
//! ```toml
//! seconds = "forty"
//! ```
//! To mend it: write the type that the message names.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::error("wrong-type", "a value of the wrong type", "write the type that the message names");

/// `wanted` and `got` in words, such as `a text` and `a number`.
pub(crate) fn found(site: Site, key: &str, wanted: &str, got: &str, mend: &str) -> Found {
    CHECK.at(site, format!("`{key}` must be {wanted}, and this is {got}"), mend)
}
