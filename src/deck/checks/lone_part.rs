//! `lone-part`: a drawing with no other part than the one to find.
//!
//! Why: Where there is nothing to mistake it for, nothing is asked.
//!
//! Example:
//! ```toml
//! part = "the-only-one"
//! ```
//! To mend it: give other parts an id and a title too.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "lone-part",
    "a drawing with no other part than the one to find",
    "give other parts an id and a title too",
);

pub(crate) fn found(site: Site, path: &str) -> Found {
    CHECK.at(
        site,
        format!("the drawing `{path}` has no part that this one could be mistaken for"),
        "give other parts an id and a <title> too",
    )
}
