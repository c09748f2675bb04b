//! `uneven-step`: a step that does not divide the range of its given.
//!
//! Why: The greatest figure is then never drawn.
//!
//! Example:
//! ```toml
//! bore = { from = "280 mm", to = "400 mm", step = "50 mm" }
//! ```
//! To mend it: let the step lead from from to to in whole steps.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "uneven-step",
    "a step that does not divide the range of its given",
    "let the step lead from from to to in whole steps",
);

/// `last` is the greatest figure that is drawn.
pub(crate) fn found(site: Site, last: &str) -> Found {
    CHECK.at(site, format!("the steps end at {last} and do not reach `to`"), CHECK.mend)
}
