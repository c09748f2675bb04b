//! `pipe-to-itself`: a pipe that goes from a node to the same node.
//!
//! Why: It leads nowhere.
//!
//! Example:
//! ```toml
//! [[lineup.pipe]]
//! from = "qcv"
//! to = "qcv"
//! ```
//! To mend it: name the node at its other end.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::error("pipe-to-itself", "a pipe that goes from a node to the same node", "name the node at its other end");

pub(crate) fn found(site: Site, key: &str) -> Found {
    CHECK.at(site, format!("this pipe goes from `{key}` to `{key}`"), "name the node at its other end")
}
