//! `answer-unit`: a formula whose unit does not fit the answer's.
//!
//! Why: An answer that comes to square metres cannot be given in kilowatts, and a slip that does is never recognised.
//!
//! Example:
//! ```toml
//! [working.answer]
//! is = "bore^2"
//! unit = "kW"
//! ```
//! To mend it: see which figure the formula lacks or has too many, or ask for another unit.

use crate::deck::problem::{Check, Found, Site};
use crate::domain::quantity::QuantityError;

pub(crate) const CHECK: Check = Check::error(
    "answer-unit",
    "a formula whose unit does not fit the answer's",
    "see which figure the formula lacks or has too many, or ask for another unit",
);

pub(crate) fn found(site: Site, error: &QuantityError) -> Found {
    CHECK.at(site, error.message.clone(), error.mend.clone())
}
