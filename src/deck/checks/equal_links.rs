//! `equal-links`: two links of a why that read the same.
//!
//! Why: The learner could not tell them apart. Case, spaces and punctuation make no difference.
//!
//! Example:
//! ```toml
//! links = ["Pump stops", "Oil pressure falls", "pump stops"]
//! ```
//! To mend it: reword or take out one of them.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::error("equal-links", "two links of a why that read the same", "reword or take out one of them");

pub(crate) fn found(site: Site, text: &str) -> Found {
    let shown: String = text.chars().take(60).collect();
    CHECK.at(site, format!("the link `{shown}` is there twice"), "reword one of them or take it out")
}
