//! `bad-name`: a name that formulas cannot use.
//!
//! Why: A formula would read `mean-speed` as a subtraction.
//!
//! Example:
//! ```toml
//! [working.givens]
//! mean-speed = { from = "600 rpm", to = "900 rpm", step = "30 rpm" }
//! ```
//! To mend it: use letters, digits and _, beginning with a letter.

use crate::deck::problem::{Check, Found, Site};
use crate::domain::quantity::expression;

pub(crate) const CHECK: Check =
    Check::error("bad-name", "a name that formulas cannot use", "use letters, digits and _, beginning with a letter");

pub(crate) fn found(site: Site, name: &str) -> Found {
    let shown: String = name.chars().take(60).collect();
    let word = |c: char| if c.is_alphanumeric() { c } else { '_' };
    let better: String = shown.chars().map(word).collect();
    let mend = match expression::name(&better).filter(|better| *better != shown) {
        Some(better) => format!("write `{better}`"),
        None => "use letters, digits and `_`, beginning with a letter, at most 40, and not `pi`".to_owned(),
    };
    CHECK.at(site, format!("formulas cannot use the name `{shown}`"), mend)
}
