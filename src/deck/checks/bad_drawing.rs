//! `bad-drawing`: a drawing that cannot be read or holds what may not be in one.
//!
//! Why: A drawing comes from anywhere; it may take nothing in from elsewhere, do nothing by itself and keep no one waiting.
//!
//! Example:
//! ```toml
//! drawing = "pictures/with-script.svg"
//! ```
//! To mend it: do what the message says, and save the drawing again.

use crate::deck::problem::{Check, Found, Site};
use crate::svg::Fault;

pub(crate) const CHECK: Check = Check::error(
    "bad-drawing",
    "a drawing that cannot be read or holds what may not be in one",
    "do what the message says, and save the drawing again",
);

pub(crate) fn found(site: Site, path: &str, fault: &Fault) -> Found {
    CHECK.at(site, format!("the drawing `{path}` {}", fault.what), fault.mend.clone())
}
