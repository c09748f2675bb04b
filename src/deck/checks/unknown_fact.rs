//! `unknown-fact`: a sequence names a fact that it does not declare.
//!
//! Why: Every fact must be declared with a name for people, so that a slip of the pen is not taken for another fact.
//!
//! Example:
//! ```toml
//! needs = ["oil-presure"]
//! ```
//! To mend it: write the fact as [sequence.fact] has it, or add it there with its name.

use crate::deck::problem::{Check, Found, Site};
use crate::deck::suggest;

pub(crate) const CHECK: Check = Check::error(
    "unknown-fact",
    "a sequence names a fact that it does not declare",
    "write the fact as [sequence.fact] has it, or add it there with its name",
);

pub(crate) fn found<'a>(site: Site, key: &str, keys: impl Iterator<Item = &'a str> + Clone) -> Found {
    let shown: String = key.chars().take(60).collect();
    let mend = match suggest::nearest(key, keys) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("add {shown} = \"its name for people\" to [sequence.fact]"),
    };
    CHECK.at(site, format!("the sequence has no fact `{shown}`"), mend)
}

/// `!fact` where only a fact may stand.
pub(crate) fn negated(site: Site, key: &str, list: &str) -> Found {
    let shown: String = key.chars().take(60).collect();
    let bare = shown.trim_start_matches('!');
    let mend = match list {
        "gives" => format!("put `{bare}` into `takes`: what is taken no longer holds"),
        "takes" => format!("put `{bare}` into `gives`, or take the `!` away"),
        _ => format!("take `{shown}` out: what is not in `start` does not hold"),
    };
    CHECK.at(site, format!("`{shown}` cannot stand in `{list}`; `!` is for needs, the goal and `when`"), mend)
}
