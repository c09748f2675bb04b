//! `line-below`: a line of a working that uses a line not above it.
//!
//! Why: The method is read from top to bottom, as it would be written on paper.
//!
//! Example:
//! ```toml
//! [[working.line]]
//! name = "power"
//! is = "work * speed"
//! [[working.line]]
//! name = "work"
//! is = "pressure * volume"
//! ```
//! To mend it: move the line that it uses above it.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "line-below",
    "a line of a working that uses a line not above it",
    "move the line that it uses above it",
);

pub(crate) fn found(site: Site, name: &str, is_own: bool) -> Found {
    if is_own {
        let mend = "use givens and lines above it, or give the line another name";
        return CHECK.at(site, format!("the line `{name}` uses itself"), mend);
    }
    CHECK.at(
        site,
        format!("`{name}` stands below; a line may use only lines above it"),
        format!("move `{name}` above it"),
    )
}
