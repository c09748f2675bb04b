//! `bad-probe`: a probe whose `after` does not fit its card.
//!
//! Why: The examiner would never ask it.
//!
//! Example:
//! ```toml
//! probes = [{ after = "missed:7", ask = "...", points = [{ say = "..." }] }]   # a card of three points
//! ```
//! To mend it: write "all", or on a recall card "missed:2" or "said:1" with the number of one of its points.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "bad-probe",
    "a probe whose `after` does not fit its card",
    "write \"all\", or on a recall card \"missed:2\" or \"said:1\" with the number of one of its points",
);

/// `points` is how many key points the card has; none for a card without points.
pub(crate) fn found(site: Site, after: &str, points: Option<usize>) -> Found {
    let shown: String = after.chars().take(60).collect();
    match points {
        None => {
            CHECK.at(site, format!("a probe after `{shown}` needs a card with key points"), "write after = \"all\"")
        }
        Some(0) => CHECK.at(
            site,
            format!("`{shown}` does not say when the probe is asked"),
            "write \"all\", \"missed:1\" or \"said:1\"",
        ),
        Some(count) => {
            let mend = format!("write \"all\", or \"missed:\" or \"said:\" with a number from 1 to {count}");
            CHECK.at(site, format!("`{shown}` names no key point of this card"), mend)
        }
    }
}
