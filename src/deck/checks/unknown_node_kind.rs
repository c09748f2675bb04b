//! `unknown-node-kind`: a kind of node that there is not.
//!
//! Why: What a node is decides how flow goes through it.
//!
//! Example:
//! ```toml
//! kind = "gate-valve"
//! ```
//! To mend it: write one of the kinds that the manual names.

use crate::deck::problem::{Check, Found, Site};
use crate::deck::suggest;
use crate::domain::piping::NodeKind;
pub(crate) const CHECK: Check = Check::error(
    "unknown-node-kind",
    "a kind of node that there is not",
    "write one of the kinds that the manual names",
);

pub(crate) fn found(site: Site, word: &str) -> Found {
    let shown: String = word.chars().take(60).collect();
    let words = NodeKind::ALL.map(NodeKind::word);
    CHECK.at(site, format!("there is no kind of node `{shown}`"), suggest::mend(word, words))
}
