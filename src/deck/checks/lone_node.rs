//! `lone-node`: a node that no pipe is tied to.
//!
//! Why: It is drawn, and nothing can flow there.
//!
//! Example:
//! ```toml
//! [[lineup.node]]
//! key = "cooler"
//! kind = "cooler"
//! name = "Cooler"
//! # and no [[lineup.pipe]] names it
//! ```
//! To mend it: add its pipes, or take it out.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::warning("lone-node", "a node that no pipe is tied to", "add its pipes, or take it out");

pub(crate) fn found(site: Site, key: &str) -> Found {
    CHECK.at(
        site,
        format!("no pipe is tied to `{key}`"),
        format!("add a [[lineup.pipe]] with from or to = \"{key}\", or take the node out"),
    )
}
