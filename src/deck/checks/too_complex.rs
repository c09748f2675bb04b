//! `too-complex`: a sequence or a line-up that is too entangled to be judged.
//!
//! Why: Its orders, or its settings, cannot be told right from wrong as a whole.
//!
//! Example:
//! ```toml
//! # thirty steps, most of which give and take facts of one another
//! ```
//! To mend it: make two cards of it, or let more steps need one another.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "too-complex",
    "a sequence or a line-up that is too entangled to be judged",
    "make two cards of it, or let more steps need one another",
);

pub(crate) fn sequence(site: Site) -> Found {
    CHECK.at(
        site,
        "this sequence has too many steps that may stand in any order for its orders to be judged",
        "make two sequences of it, or let more steps need one another",
    )
}

pub(crate) fn lineup(site: Site) -> Found {
    CHECK.at(
        site,
        "this line-up has too many valves on ways that cross for its settings to be judged",
        "make two line-ups of it, or fix the valves that are not asked about",
    )
}
