//! `unmatchable-point`: a key point that no accepted phrase can match.
//!
//! Why: Whatever is typed, the point would not be found: its phrases have no words to look for, or hold a phrase
//! that it refuses.
//!
//! Example:
//! ```toml
//! { say = "Low pressure stops it", reject = ["low pressure"] }
//! ```
//! To mend it: add a phrase to `accept` that can be found, or shorten what `reject` refuses.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "unmatchable-point",
    "a key point that no accepted phrase can match",
    "add a phrase to `accept` that can be found, or shorten what `reject` refuses",
);

pub(crate) fn found(site: Site) -> Found {
    CHECK.at(
        site,
        "no phrase of this key point can ever be matched",
        "add a phrase of one to four words to `accept`, and see that `reject` does not refuse it",
    )
}
