//! `idle-valve`: a valve on which no demand depends.
//!
//! Why: Set either way it changes nothing, so that the learner is not asked about it.
//!
//! Example:
//! ```toml
//! [[lineup.node]]
//! key = "drain"
//! kind = "valve"
//! name = "Drain"
//! # and no demand speaks of where it leads
//! ```
//! To mend it: add a demand that it matters to, or leave it in as part of the drawing.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::advice(
    "idle-valve",
    "a valve on which no demand depends",
    "add a demand that it matters to, or leave it in as part of the drawing",
);

pub(crate) fn found(site: Site, key: &str) -> Found {
    CHECK.at(
        site,
        format!("`{key}` changes nothing: every demand is met or not whichever way it stands"),
        "add a demand that it matters to, such as never = [\"from\", \"to\"], or leave it in as part of the drawing",
    )
}
