//! `duplicate-step`: two steps of a sequence have the same key.
//!
//! Why: An answer names steps by their keys.
//!
//! Example:
//! ```toml
//! [[sequence.step]]
//! key = "charge"
//! # ...
//! [[sequence.step]]
//! key = "charge"
//! ```
//! To mend it: give one of them another key.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::error("duplicate-step", "two steps of a sequence have the same key", "give one of them another key");

pub(crate) fn found(site: Site, key: &str) -> Found {
    CHECK.at(site, format!("there is another step `{key}` above"), "give one of the two another key")
}
