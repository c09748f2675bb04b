//! `unsupported-kind`: a kind of card that this version does not ask yet.
//!
//! Why: The card is well known, but left out of the watch.
//!
//! Example:
//! ```toml
//! [[sequence]]
//! ```
//! To mend it: leave the card in; a later version will ask it. Only the keys that all cards share were checked.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "unsupported-kind",
    "a kind of card that this version does not ask yet",
    "leave the card in; a later version will ask it. Only the keys that all cards share were checked",
);

pub(crate) fn found(site: Site, kind: &str) -> Found {
    CHECK.at(
        site,
        format!("`{kind}` cards are not yet supported by this version; this one is left out"),
        "leave it in for a later version; only the keys that all cards share were checked",
    )
}
