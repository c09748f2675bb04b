//! `accept-and-reject`: a phrase that a key point both accepts and refuses.
//!
//! Why: The refusal wins, so the accepted phrase never counts.
//!
//! Example:
//! ```toml
//! accept = ["low pressure stops"], reject = ["low pressure"]
//! ```
//! To mend it: take one of the two out, or make the refused phrase longer.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "accept-and-reject",
    "a phrase that a key point both accepts and refuses",
    "take one of the two out, or make the refused phrase longer",
);

pub(crate) fn found(site: Site, reject: &str, accept: &str) -> Found {
    let short = |text: &str| text.chars().take(60).collect::<String>();
    CHECK.at(
        site,
        format!("`{}` is refused, and stands in the accepted phrase `{}`", short(reject), short(accept)),
        "take one of the two out, or make the refused phrase longer",
    )
}
