//! `no-within`: an answer that must be exact and whose figures go on and on.
//!
//! Why: Without a tolerance an answer must agree to one part in a million, which nobody writes down.
//!
//! Example:
//! ```toml
//! [working.answer]
//! is = "pi * bore^2 / 4"
//! unit = "m2"
//! ```
//! To mend it: add within = "1 %" to the answer.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::advice(
    "no-within",
    "an answer that must be exact and whose figures go on and on",
    "add within = \"1 %\" to the answer",
);

pub(crate) fn found(site: Site) -> Found {
    CHECK.at(site, "the answer has no tolerance, and its figures go on and on", CHECK.mend)
}
