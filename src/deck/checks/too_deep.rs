//! `too-deep`: brackets stand too deep inside one another.
//!
//! Why: No deck needs it, and it could exhaust the program. The file is not read.
//!
//! Example:
//! ```toml
//! points = [[[[[[[[[[ ... ]]]]]]]]]]
//! ```
//! To mend it: take the extra brackets out.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::error("too-deep", "brackets stand too deep inside one another", "take the extra brackets out");

pub(crate) fn found(site: Site, most: usize) -> Found {
    CHECK.at(
        site,
        format!("more than {most} brackets stand inside one another here; the file was not read"),
        "take the extra brackets out",
    )
}
