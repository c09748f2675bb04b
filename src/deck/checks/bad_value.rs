//! `bad-value`: a value that cannot be read as a number with its unit.
//!
//! Why: The typed answer is compared with it.
//!
//! Example:
//! ```toml
//! value = "about 30 bar"
//! ```
//! To mend it: write one number and one unit, such as "30 bar", "4320 kW" or "0.5".

use crate::deck::problem::{Check, Found, Site};
use crate::domain::quantity::QuantityError;

pub(crate) const CHECK: Check = Check::error(
    "bad-value",
    "a value that cannot be read as a number with its unit",
    "write one number and one unit, such as \"30 bar\", \"4320 kW\" or \"0.5\"",
);

pub(crate) fn found(site: Site, key: &str, error: &QuantityError) -> Found {
    CHECK.at(site, format!("`{key}` cannot be read: {}", error.message), error.mend.clone())
}
