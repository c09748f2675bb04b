//! `unknown-unit`: a unit that the program does not know.
//!
//! Why: An answer in another unit could not be converted.
//!
//! Example:
//! ```toml
//! value = "30 barr"
//! ```
//! To mend it: use a unit of the manual's list.

use crate::deck::problem::{Check, Found, Site};
use crate::domain::quantity::QuantityError;

pub(crate) const CHECK: Check =
    Check::error("unknown-unit", "a unit that the program does not know", "use a unit of the manual's list");

pub(crate) fn found(site: Site, error: &QuantityError) -> Found {
    CHECK.at(site, error.message.clone(), error.mend.clone())
}
