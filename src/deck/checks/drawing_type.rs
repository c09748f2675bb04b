//! `drawing-type`: a drawing to point at that is no SVG.
//!
//! Why: Only an SVG knows its parts by their ids.
//!
//! Example:
//! ```toml
//! drawing = "pictures/pump.png"
//! ```
//! To mend it: save it as svg.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error("drawing-type", "a drawing to point at that is no SVG", "save it as svg");

pub(crate) fn found(site: Site, path: &str) -> Found {
    let shown: String = path.chars().take(80).collect();
    CHECK.at(site, format!("`{shown}` is no drawing whose parts can be pointed at"), "save it as .svg")
}
