//! `picture-missing`: a picture that is not in the deck.
//!
//! Why: There would be nothing to show.
//!
//! Example:
//! ```toml
//! picture = "pictures/pupm.png"
//! ```
//! To mend it: put the file in its place, or write its name as it is; capital and small letters count.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "picture-missing",
    "a picture that is not in the deck",
    "put the file in its place, or write its name as it is; capital and small letters count",
);

pub(crate) fn found(site: Site, path: &str) -> Found {
    let shown: String = path.chars().take(80).collect();
    CHECK.at(
        site,
        format!("the deck has no file `{shown}`"),
        "put the picture there, or write its name as it is; capital and small letters count",
    )
}
