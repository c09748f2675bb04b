//! `point-count`: too few or too many key points.
//!
//! Why: The digits 1 to 9 tick the points, and no examiner waits for ten.
//!
//! Example:
//! ```toml
//! points = []
//! ```
//! To mend it: give one to nine points; share a long list over several cards.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "point-count",
    "too few or too many key points",
    "give one to nine points; share a long list over several cards",
);

pub(crate) fn found(site: Site, count: usize) -> Found {
    if count == 0 {
        CHECK.at(site, "there are no key points", "give one to nine: points = [{ say = \"...\" }]")
    } else {
        CHECK.at(
            site,
            format!("there are {count} key points, and at most 9 can be ticked"),
            "share them over two cards",
        )
    }
}
