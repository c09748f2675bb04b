//! `bad-id`: an id that is not made of lower-case letters, digits and hyphens.
//!
//! Why: Answers are filed under the id for years, so it must be plain and never change.
//!
//! Example:
//! ```toml
//! id = "Priming Pump"
//! ```
//! To mend it: use lower-case letters, digits and hyphens, at most 100.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "bad-id",
    "an id that is not made of lower-case letters, digits and hyphens",
    "use lower-case letters, digits and hyphens, at most 100",
);

pub(crate) fn found(site: Site, id: &str) -> Found {
    let better = better(id);
    let mend = if better.is_empty() {
        "use lower-case letters, digits and hyphens, at most 100".to_owned()
    } else {
        format!("use lower-case letters, digits and hyphens, at most 100: `{better}`")
    };
    let shown: String = id.chars().take(60).collect();
    CHECK.at(site, format!("`{shown}` is no id"), mend)
}

/// The nearest right id.
fn better(id: &str) -> String {
    let folded = id.to_lowercase();
    let words = folded.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
    words.collect::<Vec<_>>().join("-").chars().take(60).collect()
}
