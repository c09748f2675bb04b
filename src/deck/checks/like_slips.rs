//! `like-slips`: two slips of a working that cannot be told apart.
//!
//! Why: Whatever figures are drawn, they come to the same, so that only the first is ever told.
//!
//! Example:
//! ```toml
//! [[working.slip]]
//! is = "2 * power"
//! [[working.slip]]
//! is = "power * 4 / 2"
//! ```
//! To mend it: take one of them out, or say both in one tell.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "like-slips",
    "two slips of a working that cannot be told apart",
    "take one of them out, or say both in one tell",
);

/// `other` is the number of the slip above, from 1.
pub(crate) fn found(site: Site, other: usize) -> Found {
    CHECK.at(site, format!("this slip comes to the same as slip {other} for all figures tried"), CHECK.mend)
}
