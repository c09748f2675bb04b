//! `stray-fault`: a fault for a need that its step does not have.
//!
//! Why: It would never be told, and what it warns of would have no effect.
//!
//! Example:
//! ```toml
//! needs = ["cooled"]
//! [[sequence.step.fault]]
//! without = "oiled"
//! ```
//! To mend it: write the need as the step's `needs` has it, with its `!`, or add it there.

use crate::deck::problem::{Check, Found, Site};
use crate::deck::suggest;

pub(crate) const CHECK: Check = Check::error(
    "stray-fault",
    "a fault for a need that its step does not have",
    "write the need as the step's `needs` has it, with its `!`, or add it there",
);

pub(crate) fn found<'a>(site: Site, without: &str, step: &str, needs: impl Iterator<Item = &'a str> + Clone) -> Found {
    let mend = match suggest::nearest(without, needs) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("add \"{without}\" to the step's `needs`, or take the fault out"),
    };
    CHECK.at(site, format!("step `{step}` does not need `{without}`"), mend)
}
