//! `unknown-medium`: a medium that there is not.
//!
//! Why: The medium gives a pipe its colour and its word.
//!
//! Example:
//! ```toml
//! medium = "diesel"
//! ```
//! To mend it: write one of the media that the manual names.

use crate::deck::problem::{Check, Found, Site};
use crate::deck::suggest;
use crate::domain::piping::Medium;
pub(crate) const CHECK: Check =
    Check::error("unknown-medium", "a medium that there is not", "write one of the media that the manual names");

pub(crate) fn found(site: Site, word: &str) -> Found {
    let shown: String = word.chars().take(60).collect();
    let words = Medium::ALL.map(Medium::word);
    CHECK.at(site, format!("there is no medium `{shown}`"), suggest::mend(word, words))
}
