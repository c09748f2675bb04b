//! `unknown-key`: a key that its table does not have.
//!
//! Why: A misspelt key would be passed over in silence and the card would not do what was meant.
//!
//! Example:
//! ```toml
//! acccept = ["pressure switch"]
//! ```
//! To mend it: write the key as the manual gives it.

use crate::deck::problem::{Check, Found, Site};
use crate::deck::suggest;

pub(crate) const CHECK: Check =
    Check::error("unknown-key", "a key that its table does not have", "write the key as the manual gives it");

/// `of` is the table in words, such as `a recall card`.
pub(crate) fn found(site: Site, key: &str, of: &str, allowed: &[&str]) -> Found {
    CHECK.at(site, format!("{of} has no key `{}`", shown(key)), suggest::mend(key, allowed.iter().copied()))
}

/// A key above the first card of a card file.
pub(crate) fn outside_cards(site: Site, key: &str) -> Found {
    let mend =
        "put it under the header of its card, such as [[recall]]; what is said of the whole deck stands in deck.toml";
    CHECK.at(site, format!("`{}` stands outside every card", shown(key)), mend)
}

fn shown(key: &str) -> String {
    key.chars().take(60).collect()
}
