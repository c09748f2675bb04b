//! `no-value`: a formula that has no value for figures that the givens can take.
//!
//! Why: Such figures are drawn sooner or later, and then the card has no answer.
//!
//! Example:
//! ```toml
//! is = "sqrt(apparent^2 - active^2)"
//! ```
//! To mend it: change the ranges, or see whether the formula is as meant.

use crate::deck::problem::{Check, Found, Site};
use crate::domain::quantity::ExpressionError;

pub(crate) const CHECK: Check = Check::error(
    "no-value",
    "a formula that has no value for figures that the givens can take",
    "change the ranges, or see whether the formula is as meant",
);

/// `figures` says for which figures, such as `bore 280 mm`.
pub(crate) fn found(site: Site, error: &ExpressionError, figures: &str) -> Found {
    CHECK.at(site, format!("{} for {figures}", error.message), CHECK.mend)
}
