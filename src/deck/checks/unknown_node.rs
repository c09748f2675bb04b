//! `unknown-node`: a line-up names a node that it does not have.
//!
//! Why: What is tied to nothing is never flooded.
//!
//! Example:
//! ```toml
//! [[lineup.pipe]]
//! from = "servce-tank"
//! to = "qcv"
//! ```
//! To mend it: write the key as its [[lineup.node]] has it, or add the node.

use crate::deck::problem::{Check, Found, Site};
use crate::deck::suggest;
pub(crate) const CHECK: Check = Check::error(
    "unknown-node",
    "a line-up names a node that it does not have",
    "write the key as its [[lineup.node]] has it, or add the node",
);

pub(crate) fn found<'a>(site: Site, key: &str, keys: impl Iterator<Item = &'a str> + Clone) -> Found {
    let shown: String = key.chars().take(60).collect();
    let mend = match suggest::nearest(key, keys) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("add a [[lineup.node]] with key = \"{shown}\", or name one of those that are there"),
    };
    CHECK.at(site, format!("the line-up has no node `{shown}`"), mend)
}
