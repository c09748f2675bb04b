//! `unknown-name`: a name that is no given and no line of the working.
//!
//! Why: A formula works with the givens and the lines above it; the question names givens in braces.
//!
//! Example:
//! ```toml
//! ask = "Find the area of a piston of {boer}."
//! ```
//! To mend it: write it as the given or the line has it, or add it there.

use crate::deck::problem::{Check, Found, Site};
use crate::deck::suggest;
use crate::domain::quantity::ExpressionError;

pub(crate) const CHECK: Check = Check::error(
    "unknown-name",
    "a name that is no given and no line of the working",
    "write it as the given or the line has it, or add it there",
);

/// In a formula.
pub(crate) fn in_formula(site: Site, error: &ExpressionError) -> Found {
    CHECK.at(site, error.message.clone(), error.mend.clone())
}

/// In braces, in the question.
pub(crate) fn in_ask<'a>(site: Site, name: &str, givens: impl Iterator<Item = &'a str> + Clone) -> Found {
    let shown: String = name.chars().take(40).collect();
    let mend = format!("{}; for a brace as it stands write it twice", suggest::mend(name, givens));
    CHECK.at(site, format!("the question names `{shown}`, which is no given"), mend)
}

/// A brace that is not closed.
pub(crate) fn open_brace(site: Site) -> Found {
    CHECK.at(site, "a brace opens here and is not closed", "close it behind the name, or write it twice for a brace")
}
