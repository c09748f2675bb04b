//! `same-place`: two nodes at the same place on the grid.
//!
//! Why: One would be drawn upon the other.
//!
//! Example:
//! ```toml
//! at = [3, 1]                            # and another node stands there too
//! ```
//! To mend it: give one of them another column or row.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::warning("same-place", "two nodes at the same place on the grid", "give one of them another column or row");

pub(crate) fn found(site: Site, key: &str, other: &str) -> Found {
    CHECK.at(
        site,
        format!("`{key}` stands at the same place as `{other}`"),
        "give one of the two another column or row",
    )
}
