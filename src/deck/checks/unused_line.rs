//! `unused-line`: a line of a working that nothing uses.
//!
//! Why: The method is to lead to the answer; a line that leads nowhere is seldom meant.
//!
//! Example:
//! ```toml
//! [[working.line]]
//! name = "area"
//! is = "pi * bore^2 / 4"
//! ```
//! To mend it: use it in a line below or in the answer, or take it out.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::advice(
    "unused-line",
    "a line of a working that nothing uses",
    "use it in a line below or in the answer, or take it out",
);

pub(crate) fn found(site: Site, name: &str) -> Found {
    CHECK.at(site, format!("no line below and not the answer uses `{name}`"), CHECK.mend)
}
