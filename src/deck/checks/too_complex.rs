//! `too-complex`: a sequence with too many steps that may stand in any order.
//!
//! Why: Its orders cannot be judged.
//!
//! Example:
//! ```toml
//! # thirty steps, most of which give and take facts of one another
//! ```
//! To mend it: make two sequences of it, or let more steps need one another.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "too-complex",
    "a sequence with too many steps that may stand in any order",
    "make two sequences of it, or let more steps need one another",
);

pub(crate) fn found(site: Site) -> Found {
    CHECK.at(
        site,
        "this sequence has too many steps that may stand in any order for its orders to be judged",
        "make two sequences of it, or let more steps need one another",
    )
}
