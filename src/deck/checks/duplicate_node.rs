//! `duplicate-node`: two nodes of a line-up have the same key.
//!
//! Why: Pipes, demands and answers name nodes by their keys.
//!
//! Example:
//! ```toml
//! [[lineup.node]]
//! key = "qcv"
//! # ...
//! [[lineup.node]]
//! key = "qcv"
//! ```
//! To mend it: give one of them another key.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::error("duplicate-node", "two nodes of a line-up have the same key", "give one of them another key");

pub(crate) fn found(site: Site, key: &str) -> Found {
    CHECK.at(site, format!("there is another node `{key}` above"), "give one of the two another key")
}
