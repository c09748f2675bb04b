//! `bad-edition`: an edition that is no whole number from 1.
//!
//! Why: Editions count publications, so that it is known which text an answer belongs to.
//!
//! Example:
//! ```toml
//! edition = 1.5
//! ```
//! To mend it: begin with 1 and add one at each publication.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "bad-edition",
    "an edition that is no whole number from 1",
    "begin with 1 and add one at each publication",
);

pub(crate) fn found(site: Site) -> Found {
    CHECK.at(site, "`edition` must be a whole number from 1", "begin with 1 and add one at each publication")
}
