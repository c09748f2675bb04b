//! `bad-value`: a value that cannot be read as a number with its unit.
//!
//! Why: The typed answer is compared with it.
//!
//! Example:
//! ```toml
//! value = "about 30 bar"
//! ```
//! To mend it: write one number and one unit, such as "30 bar", "4,320 kW" or "0.5".

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::error("bad-value", "a value that cannot be read as a number with its unit");

/// `why` is the reader's own sentence.
pub(crate) fn found(site: Site, key: &str, why: &str) -> Found {
    CHECK.at(site, format!("`{key}` cannot be read: {why}"), "write one number and its unit, such as \"30 bar\"")
}
