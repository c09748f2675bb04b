//! `unknown-unit`: a unit that the program does not know.
//!
//! Why: An answer in another unit could not be converted.
//!
//! Example:
//! ```toml
//! value = "30 barr"
//! ```
//! To mend it: use a unit of the manual's list.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::error("unknown-unit", "a unit that the program does not know");

use crate::deck::suggest;

pub(crate) fn found<'a>(site: Site, unit: &str, known: impl Iterator<Item = &'a str> + Clone) -> Found {
    let shown: String = unit.chars().take(60).collect();
    let mend = match suggest::nearest(unit, known) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "use a unit that the manual lists (decks/FORMAT.md)".to_owned(),
    };
    CHECK.at(site, format!("there is no unit `{shown}`"), mend)
}
