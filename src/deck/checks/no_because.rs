//! `no-because`: a card with no `because`.
//!
//! Why: Examiners ask why, and a reason makes the fact stay.
//!
//! Example:
//! ```toml
//! [[figure]]   # with no because
//! ```
//! To mend it: add the reason in a sentence or two.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::advice("no-because", "a card with no `because`", "add the reason in a sentence or two");

pub(crate) fn found(site: Site) -> Found {
    CHECK.at(site, "this card gives no reason", "add because = \"...\" in a sentence or two")
}
