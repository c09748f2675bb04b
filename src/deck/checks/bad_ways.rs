//! `bad-ways`: the ways of a three-way valve are not two of its neighbours.
//!
//! Why: It joins its common pipe with one of two neighbours, and both must be tied to it.
//!
//! Example:
//! ```toml
//! kind = "three-way"
//! ways = ["cooler"]
//! ```
//! To mend it: name the two neighbours that it can be set to; a pipe must tie it to both, and to a third.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "bad-ways",
    "the ways of a three-way valve are not two of its neighbours",
    "name the two neighbours that it can be set to; a pipe must tie it to both, and to a third",
);

/// Not two different ways.
pub(crate) fn number(site: Site, key: &str) -> Found {
    CHECK.at(
        site,
        format!("the three-way valve `{key}` must have two different ways"),
        "name the two neighbours that it can be set to, such as ways = [\"cooler\", \"bypass\"]",
    )
}

/// A way that no pipe ties to the valve.
pub(crate) fn stranger(site: Site, key: &str, way: &str) -> Found {
    CHECK.at(
        site,
        format!("`{way}` is a way of the three-way valve `{key}`, and no pipe ties the two"),
        format!("add a [[lineup.pipe]] between `{key}` and `{way}`, or name a neighbour of the valve"),
    )
}

/// Nothing but the two ways.
pub(crate) fn no_common(site: Site, key: &str) -> Found {
    CHECK.at(
        site,
        format!("the three-way valve `{key}` has no common pipe beside its two ways"),
        "add the pipe that it joins with the one way or the other",
    )
}
