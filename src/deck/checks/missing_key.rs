//! `missing-key`: a key that must be there is not.
//!
//! Why: The card or the deck cannot be used without it.
//!
//! Example:
//! ```toml
//! [[recall]]
//! id = "no-question"
//! ```
//! To mend it: add the key under the table header shown.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::error("missing-key", "a key that must be there is not", "add the key under the table header shown");

/// `of` is the table in words; `sample` is how the key is written.
pub(crate) fn found(site: Site, key: &str, of: &str, sample: &str) -> Found {
    CHECK.at(site, format!("{of} must have `{key}`"), format!("add {sample}"))
}
