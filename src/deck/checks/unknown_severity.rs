//! `unknown-severity`: a severity that there is not.
//!
//! Why: How bad a wrong step is decides the outcome.
//!
//! Example:
//! ```toml
//! severity = "fatal"
//! ```
//! To mend it: write no-effect, trip, damage or injury.

use crate::deck::problem::{Check, Found, Site};
use crate::deck::suggest;
use crate::domain::plant::Severity;

pub(crate) const CHECK: Check =
    Check::error("unknown-severity", "a severity that there is not", "write no-effect, trip, damage or injury");

pub(crate) fn found(site: Site, word: &str) -> Found {
    let shown: String = word.chars().take(60).collect();
    let words = Severity::ALL.map(Severity::word);
    CHECK.at(site, format!("there is no severity `{shown}`"), suggest::mend(word, words))
}
