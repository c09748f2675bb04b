//! `bad-formula`: a formula that cannot be read.
//!
//! Why: What cannot be read cannot be worked out.
//!
//! Example:
//! ```toml
//! is = "pi * bore^2 / / 4"
//! ```
//! To mend it: write names, numbers with their units, + - * / ^, brackets and the functions of the manual.

use crate::deck::problem::{Check, Found, Site};
use crate::domain::quantity::ExpressionError;

pub(crate) const CHECK: Check = Check::error(
    "bad-formula",
    "a formula that cannot be read",
    "write names, numbers with their units, + - * / ^, brackets and the functions of the manual",
);

pub(crate) fn found(site: Site, error: &ExpressionError) -> Found {
    CHECK.at(site, error.message.clone(), error.mend.clone())
}
