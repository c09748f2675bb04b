//! `cold-answer`: an answer in degC that lies far below any temperature of the trade.
//!
//! Why: What comes of a product or a quotient is a temperature from absolute zero: a rise of 12 K would be -261 degC.
//!
//! Example:
//! ```toml
//! is = "heat / (flow * capacity)"
//! unit = "degC"
//! ```
//! To mend it: ask for a difference of temperatures in K.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "cold-answer",
    "an answer in degC that lies far below any temperature of the trade",
    "ask for a difference of temperatures in K",
);

/// `answer` as people read it.
pub(crate) fn found(site: Site, answer: &str) -> Found {
    CHECK.at(site, format!("the answer is {answer} for some figures"), CHECK.mend)
}
