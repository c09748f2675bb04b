//! `not-utf8`: the file has a byte that is not UTF-8.
//!
//! Why: Decks are UTF-8, so that signs such as ° and ≤ are the same on every computer.
//!
//! Example:
//! ```toml
//! ask = "At 15 ?C ..."   # saved as Latin-1
//! ```
//! To mend it: save the file again as UTF-8; nearly every editor offers this under "save as" or "encoding".

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "not-utf8",
    "the file has a byte that is not UTF-8",
    "save the file again as UTF-8; nearly every editor offers this under \"save as\" or \"encoding\"",
);

/// A byte (or several) that is no UTF-8.
pub(crate) fn found(site: Site, bytes: &[u8]) -> Found {
    let shown: Vec<String> = bytes.iter().take(4).map(|b| format!("{b:02X}")).collect();
    CHECK.at(site, format!("this is not UTF-8 (byte {})", shown.join(" ")), "save the file as UTF-8 in your editor")
}

/// The whole file is in another encoding.
pub(crate) fn whole_file(site: Site, encoding: &str) -> Found {
    CHECK.at(site, format!("the file is in {encoding}, not in UTF-8"), "save the file as UTF-8 in your editor")
}
