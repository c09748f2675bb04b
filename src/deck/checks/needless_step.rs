//! `needless-step`: a step that no working order needs.
//!
//! Why: A learner who leaves it out has left nothing out.
//!
//! Example:
//! ```toml
//! [[sequence.step]]
//! key = "log"
//! gives = ["logged"]             # and nothing needs it
//! ```
//! To mend it: let the goal or another step need what it gives, or take it out.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "needless-step",
    "a step that no working order needs",
    "let the goal or another step need what it gives, or take it out",
);

pub(crate) fn found(site: Site, step: &str) -> Found {
    CHECK.at(
        site,
        format!("no working order needs step `{step}`"),
        "let the goal or another step need what it gives, or take it out",
    )
}

/// A step that can never be done. `need` is what is never met, as written.
pub(crate) fn never_done(site: Site, step: &str, need: Option<&str>) -> Found {
    let why = need.map_or_else(|| "its needs never hold together".to_owned(), |need| format!("`{need}` never holds"));
    CHECK.at(
        site,
        format!("no order can do step `{step}`: {why}"),
        "let another step give what it needs, or take it out",
    )
}
