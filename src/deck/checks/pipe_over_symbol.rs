//! `pipe-over-symbol`: a pipe that runs over a node it is not tied to.
//!
//! Why: It looks as if the two were joined.
//!
//! Example:
//! ```toml
//! [[lineup.pipe]]
//! from = "tank"                          # at [1, 1]
//! to = "engine"                          # at [5, 1], with a valve of another line at [3, 1]
//! ```
//! To mend it: lead it round by corners in `via`, or move the node.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "pipe-over-symbol",
    "a pipe that runs over a node it is not tied to",
    "lead it round by corners in `via`, or move the node",
);

pub(crate) fn found(site: Site, over: &str) -> Found {
    CHECK.at(
        site,
        format!("this pipe runs over `{over}`, as if it were tied to it"),
        "lead it round by corners in `via`, such as via = [[2, 1], [2, 3]], or move the node",
    )
}
