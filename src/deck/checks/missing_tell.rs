//! `missing-tell`: an unmet need, a trap or a reflex that has no `tell`.
//!
//! Why: A learner should be told what would have happened.
//!
//! Example:
//! ```toml
//! needs = ["cooled"]             # and no [[sequence.step.fault]] without = "cooled"
//! ```
//! To mend it: say in a `tell` what happens.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "missing-tell",
    "an unmet need, a trap or a reflex that has no `tell`",
    "say in a `tell` what happens",
);

/// A need that can be unmet and that no fault is for.
pub(crate) fn need(site: Site, step: &str, need: &str) -> Found {
    CHECK.at(
        site,
        format!("nothing tells what happens when step `{step}` is done without `{need}`"),
        format!("add [[sequence.step.fault]] with without = \"{need}\", its severity and a tell"),
    )
}

/// A fault, a trap or a reflex that does not say what happens.
pub(crate) fn found(site: Site, what: &str) -> Found {
    CHECK.at(site, format!("{what} has no `tell`"), "add tell = \"what happens, in one sentence\"")
}
