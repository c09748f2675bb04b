//! `too-long`: a text is too long.
//!
//! Why: A question or an answer of many pages cannot be shown or learnt.
//!
//! Example:
//! ```toml
//! ask = "... 20,001 characters ..."
//! ```
//! To mend it: shorten the text.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error("too-long", "a text is too long", "shorten the text");

pub(crate) fn found(site: Site, key: &str, most: usize) -> Found {
    CHECK.at(site, format!("`{key}` is longer than {most} characters"), "shorten it")
}
