//! `no-accept`: a key point of many words with no `accept`.
//!
//! Why: Nobody types the point just as the deck says it.
//!
//! Example:
//! ```toml
//! { say = "The pump driven by the engine now supplies the bearings" }
//! ```
//! To mend it: add two to five short phrases that make the point.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::advice(
    "no-accept",
    "a key point of many words with no `accept`",
    "add two to five short phrases that make the point",
);

pub(crate) fn found(site: Site) -> Found {
    CHECK.at(
        site,
        "this key point is long and has no `accept`: a typed answer will hardly match it",
        "add two to five phrases of one to four words: accept = [\"...\"]",
    )
}
