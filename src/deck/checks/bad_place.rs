//! `bad-place`: a place that is not on the grid.
//!
//! Why: The schematic is drawn from columns and rows.
//!
//! Example:
//! ```toml
//! at = [3, 100000]
//! ```
//! To mend it: write a column and a row from -1000 to 1000, such as at = [3, 1].

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "bad-place",
    "a place that is not on the grid",
    "write a column and a row from -1000 to 1000, such as at = [3, 1]",
);

pub(crate) fn found(site: Site, key: &str) -> Found {
    CHECK.at(
        site,
        format!("a place in `{key}` lies outside the grid"),
        "write a column and a row from -1000 to 1000, such as [3, 1]",
    )
}
