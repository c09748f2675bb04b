//! `no-full-order`: a sequence of which no order uses every step.
//!
//! Why: How far a wrong order is from a right one cannot be said.
//!
//! Example:
//! ```toml
//! # two steps of which each makes the other impossible
//! ```
//! To mend it: make two sequences of it, where that helps the learner.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::advice(
    "no-full-order",
    "a sequence of which no order uses every step",
    "make two sequences of it, where that helps the learner",
);

pub(crate) fn found(site: Site) -> Found {
    CHECK.at(
        site,
        "no working order uses every step, so a wrong order cannot be told how far it is from a right one",
        "make two sequences of it, or mark as `trap` what is never right",
    )
}
