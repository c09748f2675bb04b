//! `bad-language`: a language that is no language tag.
//!
//! Why: The tag says how the text is read aloud and sorted.
//!
//! Example:
//! ```toml
//! language = "English"
//! ```
//! To mend it: use a tag such as en, en-GB or nb.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::error("bad-language", "a language that is no language tag", "use a tag such as en, en-GB or nb");

pub(crate) fn found(site: Site, tag: &str) -> Found {
    let shown: String = tag.chars().take(60).collect();
    CHECK.at(site, format!("`{shown}` is no language tag"), "use a tag such as `en`, `en-GB` or `nb`")
}
