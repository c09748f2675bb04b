//! `nothing-takes`: a fact that must not hold, holds from the start, and nothing takes it.
//!
//! Why: What waits for it to end can never happen.
//!
//! Example:
//! ```toml
//! start = ["turning-gear-in"]
//! needs = ["!turning-gear-in"]   # and no step takes it
//! ```
//! To mend it: add the fact to the `takes` of the step or reflex that ends it, or take it out of `start`.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "nothing-takes",
    "a fact that must not hold, holds from the start, and nothing takes it",
    "add the fact to the `takes` of the step or reflex that ends it, or take it out of `start`",
);

pub(crate) fn found(site: Site, fact: &str) -> Found {
    CHECK.at(
        site,
        format!("`{fact}` holds from the start and nothing takes it"),
        "add it to the `takes` of the step that ends it, or take it out of `start`",
    )
}
