//! `unused-fact`: a fact that a sequence declares and never uses.
//!
//! Why: It is shown to nobody, or a slip of the pen stands elsewhere.
//!
//! Example:
//! ```toml
//! [sequence.fact]
//! oil-warm = "Lubricating oil warm"   # and no step names it
//! ```
//! To mend it: use it or take it out.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::warning("unused-fact", "a fact that a sequence declares and never uses", "use it or take it out");

pub(crate) fn found(site: Site, fact: &str) -> Found {
    CHECK.at(site, format!("nothing uses the fact `{fact}`"), "use it in a step, or take it out")
}
