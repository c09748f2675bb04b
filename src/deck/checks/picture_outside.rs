//! `picture-outside`: a picture path that leaves the deck.
//!
//! Why: A deck must hold its own pictures, and must never read other files of the computer.
//!
//! Example:
//! ```toml
//! picture = "../other-deck/pump.png"
//! ```
//! To mend it: put the picture into the deck's folder pictures/ and write pictures/name.png.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "picture-outside",
    "a picture path that leaves the deck",
    "put the picture into the deck's folder pictures/ and write pictures/name.png",
);

pub(crate) fn found(site: Site, path: &str, why: &str) -> Found {
    let shown: String = path.chars().take(80).collect();
    CHECK.at(
        site,
        format!("the picture path `{shown}` {why}"),
        "put the picture into the deck and write its path from there: pictures/name.png",
    )
}
