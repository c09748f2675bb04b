//! `undescribed-part`: a drawing whose parts cannot be told apart in words.
//!
//! Why: Where nothing can be drawn, in a terminal or for a screen reader, the parts are told by their <desc>; without it such a card is passed over there.
//!
//! Example:
//! ```xml
//! <circle id="qcv"><title>quick-closing valve</title><desc>right at the tank, with a wire</desc></circle>
//! ```
//! To mend it: give every part a desc with its place and look, without its name.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::advice(
    "undescribed-part",
    "a drawing whose parts cannot be told apart in words",
    "give every part a desc with its place and look, without its name",
);

pub(crate) fn found(site: Site, path: &str, id: &str, alike: Option<&str>) -> Found {
    let what = match alike {
        None => format!("the part `{id}` of `{path}` has no <desc>"),
        Some(other) => format!("the parts `{id}` and `{other}` of `{path}` have the same <desc>"),
    };
    CHECK.at(
        site,
        format!("{what}, so that the card is passed over in the terminal"),
        "say of every part where it lies and how it looks, without its name",
    )
}
