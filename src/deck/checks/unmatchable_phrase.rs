//! `unmatchable-phrase`: an accepted or refused phrase in which there is no word to look for.
//!
//! Why: Signs carry nothing, and the smallest words (the, of, is) stand in every answer, so the phrase makes no
//! point.
//!
//! Example:
//! ```toml
//! accept = ["it is the"]
//! ```
//! To mend it: write one to four words that carry the point.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "unmatchable-phrase",
    "an accepted or refused phrase in which there is no word to look for",
    "write one to four words that carry the point",
);

/// `key` is `accept` or `reject`.
pub(crate) fn found(site: Site, key: &str) -> Found {
    CHECK.at(
        site,
        format!("this phrase of `{key}` has no word that could be looked for"),
        "write one to four words that carry the point",
    )
}
