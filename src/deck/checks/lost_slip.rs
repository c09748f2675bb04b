//! `lost-slip`: a slip that has no value for any figures.
//!
//! Why: It is never recognised in an answer.
//!
//! Example:
//! ```toml
//! is = "power / (bore - bore)"
//! ```
//! To mend it: see whether the formula is as meant, or take the slip out.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "lost-slip",
    "a slip that has no value for any figures",
    "see whether the formula is as meant, or take the slip out",
);

pub(crate) fn found(site: Site) -> Found {
    CHECK.at(site, "this slip has no value for any of the figures tried", CHECK.mend)
}
