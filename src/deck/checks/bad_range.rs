//! `bad-range`: a given whose from, to and step make no range.
//!
//! Why: The figures are drawn from `from` up to `to`, by `step`.
//!
//! Example:
//! ```toml
//! bore = { from = "400 mm", to = "280 mm", step = "10 mm" }
//! ```
//! To mend it: let from be at or below to, and step above zero, all of one kind.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "bad-range",
    "a given whose from, to and step make no range",
    "let from be at or below to, and step above zero, all of one kind",
);

/// `to` below `from`.
pub(crate) fn upside_down(site: Site) -> Found {
    CHECK.at(site, "`to` is below `from`", "change the two over")
}

/// A step of zero or less.
pub(crate) fn no_step(site: Site) -> Found {
    CHECK.at(site, "the step is not above zero", "give the distance from one figure to the next")
}

/// Another kind of quantity than `from`.
pub(crate) fn other_kind(site: Site, key: &str, this: &str, from: &str) -> Found {
    CHECK.at(site, format!("`{key}` is {this}, but `from` is {from}"), "write all three in units of one kind")
}

/// A step so small that it cannot be counted.
pub(crate) fn too_many_steps(site: Site) -> Found {
    CHECK.at(site, "the range has more than a million steps", "use a greater step; the figures are to be round ones")
}
