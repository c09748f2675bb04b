//! `always-met`: a demand that every setting meets.
//!
//! Why: It asks nothing of the learner.
//!
//! Example:
//! ```toml
//! [[lineup.demand]]
//! name = "Nothing from the engine to the sea"
//! never = ["engine", "sea-chest"]        # and no pipe joins the two
//! ```
//! To mend it: see whether a pipe is missing or a valve left out, or take the demand out.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "always-met",
    "a demand that every setting meets",
    "see whether a pipe is missing or a valve left out, or take the demand out",
);

pub(crate) fn found(site: Site, name: &str, is_flow: bool) -> Found {
    let why = if is_flow {
        "flow goes there however the valves stand"
    } else {
        "flow never goes there, however the valves stand"
    };
    CHECK.at(
        site,
        format!("every setting meets the demand “{name}”: {why}"),
        "see whether a pipe is missing or a valve left out, or take the demand out",
    )
}
