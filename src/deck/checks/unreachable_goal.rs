//! `unreachable-goal`: no order of the steps reaches the goal.
//!
//! Why: There would be no right answer.
//!
//! Example:
//! ```toml
//! goal = ["engine-running"]      # and its step needs what only comes after it
//! ```
//! To mend it: see which need is never met, and give it, or take it out.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "unreachable-goal",
    "no order of the steps reaches the goal",
    "see which need is never met, and give it, or take it out",
);

/// `why` says what stands in the way.
pub(crate) fn found(site: Site, why: &str, mend: &str) -> Found {
    CHECK.at(site, format!("no order of the steps reaches the goal: {why}"), mend)
}
