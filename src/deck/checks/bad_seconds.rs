//! `bad-seconds`: seconds that are not above zero.
//!
//! Why: The seconds are the time that a good answer takes.
//!
//! Example:
//! ```toml
//! seconds = 0
//! ```
//! To mend it: give the time a good spoken answer takes, such as 40, or leave it out.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "bad-seconds",
    "seconds that are not above zero",
    "give the time a good spoken answer takes, such as 40, or leave it out",
);

pub(crate) fn found(site: Site) -> Found {
    CHECK.at(
        site,
        "`seconds` must be a number above zero",
        "give the time that a good answer takes, such as 40, or leave it out",
    )
}
