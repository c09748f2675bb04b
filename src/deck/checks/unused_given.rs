//! `unused-given`: a given that no formula of its working uses.
//!
//! Why: The learner looks for its place in the calculation, and there is none; often another name was meant.
//!
//! Example:
//! ```toml
//! [working.givens]
//! stroke = { from = "350 mm", to = "480 mm", step = "10 mm" }
//! ```
//! To mend it: use it in a line or in the answer, or take it out.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "unused-given",
    "a given that no formula of its working uses",
    "use it in a line or in the answer, or take it out",
);

pub(crate) fn found(site: Site, name: &str) -> Found {
    CHECK.at(site, format!("neither the method nor the answer uses `{name}`"), CHECK.mend)
}
