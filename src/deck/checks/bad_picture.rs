//! `bad-picture`: a picture that cannot be shown, because it is damaged, cut short or too large.
//!
//! Why: The card is asked without it, and the learner is told that a picture is missing.
//!
//! Example:
//! ```toml
//! picture = "pictures/pump.png"          # the file was cut short while it was copied
//! ```
//! To mend it: save the picture again, as PNG or JPEG of at most 8,000 dots on a side and 8 MB, or as a plain SVG.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "bad-picture",
    "a picture that cannot be shown, because it is damaged, cut short or too large",
    "save the picture again, as PNG or JPEG of at most 8,000 dots on a side and 8 MB, or as a plain SVG",
);

pub(crate) fn found(site: Site, path: &str, what: &str, mend: &str) -> Found {
    CHECK.at(site, format!("the picture `{path}` {what}"), mend)
}
