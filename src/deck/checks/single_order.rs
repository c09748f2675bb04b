//! `single-order`: only one order works, and `strict` is not said.
//!
//! Why: Another order that a good engineer would use may be judged wrong.
//!
//! Example:
//! ```toml
//! [[sequence]]
//! id = "crankcase-alarm"         # each step needs the one before it
//! ```
//! To mend it: take out needs that are habits only, or say strict = true.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "single-order",
    "only one order works, and `strict` is not said",
    "take out needs that are habits only, or say strict = true",
);

pub(crate) fn found(site: Site) -> Found {
    CHECK.at(
        site,
        "only one order works",
        "take out needs that are only habit, or write strict = true where that order alone is right",
    )
}
