//! `hiding-name`: a name of a working that is also a unit or a function.
//!
//! Why: In its formulas the name is meant, and `N / 2` is no longer half a newton; a reader may take one for the other.
//!
//! Example:
//! ```toml
//! [working.givens]
//! N = { from = "600 rpm", to = "900 rpm", step = "30 rpm" }
//! ```
//! To mend it: use a name in words, such as speed.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "hiding-name",
    "a name of a working that is also a unit or a function",
    "use a name in words, such as speed",
);

pub(crate) fn found(site: Site, name: &str, what: &str) -> Found {
    CHECK.at(site, format!("`{name}` is also {what}"), "use a name in words, such as `speed`")
}
