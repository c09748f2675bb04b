//! `duplicate-name`: two givens or lines of a working with the same name.
//!
//! Why: A formula could not tell which is meant.
//!
//! Example:
//! ```toml
//! [[working.line]]
//! name = "bore"
//! is = "2 * radius"
//! ```
//! To mend it: give one of them another name.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "duplicate-name",
    "two givens or lines of a working with the same name",
    "give one of them another name",
);

pub(crate) fn found(site: Site, name: &str, other: &str) -> Found {
    CHECK.at(site, format!("there is {other} `{name}` already"), "give one of the two another name")
}
