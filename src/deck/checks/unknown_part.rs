//! `unknown-part`: a part that the drawing does not have.
//!
//! Why: There would be nothing to find.
//!
//! Example:
//! ```toml
//! part = "qvc"
//! ```
//! To mend it: write the id as the drawing has it.

use crate::deck::problem::{Check, Found, Site};
use crate::deck::suggest;

pub(crate) const CHECK: Check =
    Check::error("unknown-part", "a part that the drawing does not have", "write the id as the drawing has it");

pub(crate) fn found<'a>(site: Site, id: &str, path: &str, ids: impl Iterator<Item = &'a str> + Clone) -> Found {
    let shown: String = id.chars().take(60).collect();
    let mend = if ids.clone().next().is_none() {
        format!("give the part in the drawing id=\"{shown}\"")
    } else {
        suggest::mend(id, ids).replace(", or take it out", "")
    };
    CHECK.at(site, format!("the drawing `{path}` has no element with the id `{shown}`"), mend)
}
