//! `because-alone`: key points of a reason on a card that gives no reason.
//!
//! Why: The oral would ask for a reason that the learner is never shown.
//!
//! Example:
//! ```toml
//! because_points = [{ say = "Hot oil mist needs only a spark" }]   # and no because = "..."
//! ```
//! To mend it: write the reason in because, or take because_points away.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "because-alone",
    "key points of a reason on a card that gives no reason",
    "write the reason in because, or take because_points away",
);

/// At `site` stand the key points.
pub(crate) fn found(site: Site) -> Found {
    CHECK.at(
        site,
        "`because_points` marks the reason, but the card has no `because`",
        "write because = \"the reason\", or take because_points away",
    )
}
