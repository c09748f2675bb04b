//! `picture-type`: a picture of a type that is not shown.
//!
//! Why: Pictures are shown without any other program.
//!
//! Example:
//! ```toml
//! picture = "pictures/pump.tiff"
//! ```
//! To mend it: save it as png, jpg, jpeg or svg.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::error("picture-type", "a picture of a type that is not shown", "save it as png, jpg, jpeg or svg");

pub(crate) fn found(site: Site, path: &str) -> Found {
    let shown: String = path.chars().take(80).collect();
    CHECK.at(site, format!("`{shown}` is no picture that can be shown"), "save it as .png, .jpg, .jpeg or .svg")
}
