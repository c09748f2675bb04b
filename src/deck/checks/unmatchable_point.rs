//! `unmatchable-point`: a key point that no accepted phrase can match.
//!
//! Why: Neither `say` nor `accept` has a word to look for, so that no typed answer can make the point.
//!
//! Example:
//! ```toml
//! { say = "...", accept = ["it is"] }
//! ```
//! To mend it: write the point in `say`, and phrases of one to four words in `accept`.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "unmatchable-point",
    "a key point that no accepted phrase can match",
    "write the point in `say`, and phrases of one to four words in `accept`",
);

pub(crate) fn found(site: Site) -> Found {
    CHECK.at(
        site,
        "no phrase of this key point has a word that a typed answer could match",
        "write the point in `say`, and phrases of one to four words in `accept`",
    )
}
