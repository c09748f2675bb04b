//! `too-many-problems`: there are more problems than are listed.
//!
//! Why: Ten thousand errors (or warnings, or pieces of advice) are enough for one sitting.
//!
//! Example:
//! ```toml
//! # ten thousand and one problems
//! ```
//! To mend it: mend those listed and check again.

use crate::deck::problem::Severity;
use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::warning("too-many-problems", "there are more problems than are listed", "mend those listed and check again");

/// `worst` is the severity of the worst problem left out.
pub(crate) fn found(worst: Severity, site: Site) -> Found {
    CHECK.at(
        site,
        format!("there are more problems of this sort than are listed: {}", worst.word()),
        "mend those listed and check again",
    )
}
