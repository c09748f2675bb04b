//! `goal-at-start`: a sequence whose goal holds at the start.
//!
//! Why: An empty list would be right.
//!
//! Example:
//! ```toml
//! start = ["air-in-receiver"]
//! goal = ["air-in-receiver"]
//! ```
//! To mend it: take the fact out of `start`, or ask for more in `goal`.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "goal-at-start",
    "a sequence whose goal holds at the start",
    "take the fact out of `start`, or ask for more in `goal`",
);

pub(crate) fn found(site: Site) -> Found {
    CHECK.at(site, "the goal holds before anything is done", "take the fact out of `start`, or ask for more in `goal`")
}
