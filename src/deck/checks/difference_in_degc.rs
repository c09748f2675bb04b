//! `difference-in-degc`: a difference of temperatures given in degC.
//!
//! Why: A figure in degC is a temperature on the scale: in a product it counts from absolute zero, 273.15 K more.
//!
//! Example:
//! ```toml
//! rise = { from = "8 degC", to = "14 degC", step = "1 K" }
//! ```
//! To mend it: give it in K.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::warning("difference-in-degc", "a difference of temperatures given in degC", "give it in K");

pub(crate) fn found(site: Site, name: &str) -> Found {
    CHECK.at(site, format!("`{name}` seems to be a difference of temperatures, and degC is a temperature"), CHECK.mend)
}
