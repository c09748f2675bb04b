//! `changing-sign`: an answer that is zero or below for some figures and above zero for others.
//!
//! Why: A power or a volume below zero is nonsense, and of zero a tolerance in per cent leaves nothing.
//!
//! Example:
//! ```toml
//! is = "gain - loss"
//! ```
//! To mend it: change the ranges so that the answer keeps its sign, or leave it if it is so in the plant.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "changing-sign",
    "an answer that is zero or below for some figures and above zero for others",
    "change the ranges so that the answer keeps its sign, or leave it if it is so in the plant",
);

/// `answer` and `figures` as people read them.
pub(crate) fn found(site: Site, answer: &str, figures: &str) -> Found {
    CHECK.at(site, format!("the answer is {answer} for {figures}"), CHECK.mend)
}
