//! `curly-quotes`: curly quotation marks stand where straight ones must.
//!
//! Why: Word processors turn straight quotes into curly ones, which do not open or close a text in TOML.
//!
//! Example:
//! ```toml
//! ask = “What trips first?”
//! ```
//! To mend it: use straight quotes: " or '.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "curly-quotes",
    "curly quotation marks stand where straight ones must",
    "use straight quotes: \" or '",
);

pub(crate) fn found(site: Site, sign: char) -> Found {
    CHECK.at(
        site,
        format!("the curly quotation mark {sign} cannot open or close a text"),
        "use straight quotes: \"...\"",
    )
}
