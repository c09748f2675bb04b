//! `too-few-links`: a why with fewer than two links.
//!
//! Why: One cause cannot be put in order.
//!
//! Example:
//! ```toml
//! links = ["Sea water blocked"]
//! ```
//! To mend it: give two or more causes.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::error("too-few-links", "a why with fewer than two links", "give two or more causes");

pub(crate) fn found(site: Site) -> Found {
    CHECK.at(site, "a why needs at least two links", "give two or more causes, from the first to what was seen")
}
