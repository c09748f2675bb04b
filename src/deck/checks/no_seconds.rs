//! `no-seconds`: a card with no `seconds`.
//!
//! Why: Without the time of a good answer no answer to the card can count as fluent.
//!
//! Example:
//! ```toml
//! [[recall]]   # with no seconds
//! ```
//! To mend it: add the time that a good spoken answer takes.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::advice("no-seconds", "a card with no `seconds`", "add the time that a good spoken answer takes");

pub(crate) fn found(site: Site) -> Found {
    CHECK.at(
        site,
        "this card does not say how long a good answer takes",
        "add seconds = 40 or so; without it no answer counts as fluent",
    )
}
