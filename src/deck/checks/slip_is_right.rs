//! `slip-is-right`: a slip within tolerance of the right answer.
//!
//! Why: A learner who makes the slip is told that the answer is right.
//!
//! Example:
//! ```toml
//! within = "5 %"
//! # ...
//! is = "1.04 * power"
//! ```
//! To mend it: change the ranges so that the two differ, or make the tolerance smaller.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "slip-is-right",
    "a slip within tolerance of the right answer",
    "change the ranges so that the two differ, or make the tolerance smaller",
);

/// `share` is that of the draws in which it is so.
pub(crate) fn found(site: Site, share: f64) -> Found {
    let often = match share {
        all if all >= 1.0 => "for all figures".to_owned(),
        share => format!("for {:.0} % of the figures tried", (share * 100.0).max(1.0)),
    };
    CHECK.at(site, format!("this slip is within tolerance of the right answer {often}"), CHECK.mend)
}
