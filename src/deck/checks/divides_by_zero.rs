//! `divides-by-zero`: givens that divide by zero somewhere.
//!
//! Why: Such figures are drawn sooner or later, and then the card has no answer.
//!
//! Example:
//! ```toml
//! t_in = { from = "20 degC", to = "40 degC", step = "1 K" }
//! t_out = { from = "30 degC", to = "60 degC", step = "1 K" }
//! # ...
//! is = "heat / (capacity * (t_out - t_in))"
//! ```
//! To mend it: change the ranges so that the divisor cannot be zero.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "divides-by-zero",
    "givens that divide by zero somewhere",
    "change the ranges so that the divisor cannot be zero",
);

/// `figures` says for which figures, such as `bore 280 mm`.
pub(crate) fn found(site: Site, figures: &str) -> Found {
    CHECK.at(site, format!("this divides by zero for {figures}"), CHECK.mend)
}
