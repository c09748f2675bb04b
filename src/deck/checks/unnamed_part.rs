//! `unnamed-part`: a part that the drawing gives no name.
//!
//! Why: The learner is told what was pointed at; without a name the id is shown.
//!
//! Example:
//! ```toml
//! part = "path1423"
//! ```
//! To mend it: give the element a title with its name.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::warning("unnamed-part", "a part that the drawing gives no name", "give the element a title with its name");

pub(crate) fn found(site: Site, id: &str) -> Found {
    let shown: String = id.chars().take(60).collect();
    CHECK.at(site, format!("the part `{shown}` has no name for people"), "put <title>its name</title> into the element")
}
