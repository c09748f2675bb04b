//! `names-overlap`: the names of two neighbours run into one another.
//!
//! Why: The schematic must be stretched to part them, and is then smaller to read.
//!
//! Example:
//! ```toml
//! name = "Emergency fire pump sea suction valve"   # and its neighbour, one column on, has a long name too
//! ```
//! To mend it: give shorter names, or leave a column free between the two.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::advice(
    "names-overlap",
    "the names of two neighbours run into one another",
    "give shorter names, or leave a column free between the two",
);

pub(crate) fn found(site: Site, key: &str, other: &str) -> Found {
    CHECK.at(
        site,
        format!("the name of `{key}` runs into that of `{other}`, which stands beside it"),
        "give a shorter name, or leave a column free between the two",
    )
}
