//! `formula-units`: a formula whose units do not fit one another.
//!
//! Why: A pressure cannot be added to a length, and a logarithm is of a pure number.
//!
//! Example:
//! ```toml
//! is = "pressure + depth"
//! ```
//! To mend it: see which figure is missing on one side.

use crate::deck::problem::{Check, Found, Site};
use crate::domain::quantity::ExpressionError;

pub(crate) const CHECK: Check = Check::error(
    "formula-units",
    "a formula whose units do not fit one another",
    "see which figure is missing on one side",
);

pub(crate) fn found(site: Site, error: &ExpressionError) -> Found {
    CHECK.at(site, error.message.clone(), error.mend.clone())
}
