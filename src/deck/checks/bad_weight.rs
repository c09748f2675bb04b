//! `bad-weight`: a weight other than 1, 2 or 3.
//!
//! Why: The weight says how much a card matters: 1 a little, 2 as usual, 3 much.
//!
//! Example:
//! ```toml
//! weight = 5
//! ```
//! To mend it: use 1, 2 or 3, or leave it out for 2.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::error("bad-weight", "a weight other than 1, 2 or 3", "use 1, 2 or 3, or leave it out for 2");

pub(crate) fn found(site: Site) -> Found {
    CHECK.at(site, "`weight` must be 1, 2 or 3", "use 1, 2 or 3, or leave it out for 2")
}
