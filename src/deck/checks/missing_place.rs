//! `missing-place`: a node that has no place on the grid.
//!
//! Why: The schematic is drawn from the places of its nodes.
//!
//! Example:
//! ```toml
//! [[lineup.node]]
//! key = "qcv"
//! kind = "quick-closing"
//! name = "Quick-closing valve"
//! ```
//! To mend it: add at = [column, row].

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::warning("missing-place", "a node that has no place on the grid", "add at = [column, row]");

pub(crate) fn found(site: Site, key: &str) -> Found {
    CHECK.at(
        site,
        format!("node `{key}` has no place on the grid, so that the schematic cannot be drawn as it is meant"),
        "add at = [column, row], such as at = [3, 1]",
    )
}
