//! `nothing-gives`: a fact that is waited for and that nothing gives.
//!
//! Why: What waits for it can never happen.
//!
//! Example:
//! ```toml
//! goal = ["air-in-receiver"]     # and no step gives it
//! ```
//! To mend it: add the fact to the `gives` of the step or reflex that brings it about, or to `start`.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "nothing-gives",
    "a fact that is waited for and that nothing gives",
    "add the fact to the `gives` of the step or reflex that brings it about, or to `start`",
);

/// `perhaps` is a step that was probably meant to give it.
pub(crate) fn found(site: Site, fact: &str, perhaps: Option<&str>) -> Found {
    let mend = match perhaps {
        Some(step) => format!("step `{step}` was perhaps meant to: add gives = [\"{fact}\"]"),
        None => "add it to the `gives` of the step that brings it about, or to `start`".to_owned(),
    };
    CHECK.at(site, format!("nothing gives `{fact}`"), mend)
}
