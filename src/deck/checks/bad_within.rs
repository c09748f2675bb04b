//! `bad-within`: a tolerance that does not fit its value.
//!
//! Why: It must be a distance in a unit of the value's own dimension, or a share in %, and not below zero.
//!
//! Example:
//! ```toml
//! value = "30 bar"
//! within = "1 kW"
//! ```
//! To mend it: write a distance such as "1 bar", or a share such as "2 %", or leave it out for an exact figure.

use crate::deck::problem::{Check, Found, Site};
use crate::domain::quantity::QuantityError;

pub(crate) const CHECK: Check = Check::error(
    "bad-within",
    "a tolerance that does not fit its value",
    "write a distance such as \"1 bar\", or a share such as \"2 %\", or leave it out for an exact figure",
);

pub(crate) fn found(site: Site, error: &QuantityError) -> Found {
    CHECK.at(site, error.message.clone(), error.mend.clone())
}
