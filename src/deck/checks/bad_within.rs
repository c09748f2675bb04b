//! `bad-within`: a tolerance that does not fit its value.
//!
//! Why: It must be a distance in a unit of the value's own dimension, or a share in %, and not below zero.
//!
//! Example:
//! ```toml
//! value = "30 bar"
//! within = "1 kW"
//! ```
//! To mend it: write a distance such as "1 bar", or a share such as "2 %", or leave it out for an exact figure.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::error("bad-within", "a tolerance that does not fit its value");

pub(crate) fn negative(site: Site) -> Found {
    CHECK.at(site, "`within` is below zero", "write it without the minus sign")
}

/// The two dimensions differ.
pub(crate) fn other_dimension(site: Site, within: &str, value: &str) -> Found {
    CHECK.at(site, format!("`{within}` is no distance from `{value}`: the two units measure different things"), "use a unit that measures the same as the value, or a share such as \"2 %\"")
}
