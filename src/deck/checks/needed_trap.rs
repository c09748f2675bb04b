//! `needed-trap`: a trap without which the goal cannot be reached.
//!
//! Why: A trap is never part of a right answer.
//!
//! Example:
//! ```toml
//! [[sequence.step]]
//! key = "backfeed"
//! trap = true
//! gives = ["board-live"]         # and no other step gives it
//! ```
//! To mend it: take `trap = true` away, or let another step give what it gives.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "needed-trap",
    "a trap without which the goal cannot be reached",
    "take `trap = true` away, or let another step give what it gives",
);

pub(crate) fn found(site: Site, step: &str) -> Found {
    CHECK.at(
        site,
        format!("step `{step}` is a trap, but the goal cannot be reached without it"),
        "take `trap = true` away, or let another step give what it gives",
    )
}
