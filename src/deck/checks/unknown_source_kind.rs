//! `unknown-source-kind`: a source of an unknown kind.
//!
//! Why: Learners are shown what sort of source stands behind a fact.
//!
//! Example:
//! ```toml
//! [source.solas]
//! title = "SOLAS"
//! kind = "law"
//! ```
//! To mend it: use convention, standard, class-rule, textbook or practice.

use crate::deck::problem::{Check, Found, Site};
use crate::deck::suggest;

pub(crate) const CHECK: Check = Check::error(
    "unknown-source-kind",
    "a source of an unknown kind",
    "use convention, standard, class-rule, textbook or practice",
);

pub(crate) fn found(site: Site, word: &str, allowed: &[&str]) -> Found {
    let shown: String = word.chars().take(60).collect();
    CHECK.at(site, format!("there is no kind of source called `{shown}`"), suggest::mend(word, allowed.iter().copied()))
}
