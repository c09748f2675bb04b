//! `not-toml`: the text is not TOML.
//!
//! Why: The file cannot be understood from here on. The other cards of the file are still read.
//!
//! Example:
//! ```toml
//! ask = "What trips first?
//! ```
//! To mend it: usually a quote, a comma, a bracket or an equals sign is missing at the place shown.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error("not-toml", "the text is not TOML");

/// `detail` is the parser's own sentence.
pub(crate) fn found(site: Site, detail: &str) -> Found {
    let mend = if detail.contains("string values must be quoted") {
        "put text in straight double quotes: \"...\""
    } else if detail.contains("expected `=`") {
        "write a key, an equals sign and a value: key = \"value\""
    } else if detail.contains("duplicate key") {
        "keep one of the two"
    } else if detail.contains("missing comma") {
        "put a comma between the entries"
    } else if detail.contains("basic string, expected `\"`") {
        "close the text with a straight double quote on the same line, or use \"\"\" for text of several lines"
    } else if detail.contains("escape") {
        "write \\\\ for a backslash, or put the text in single quotes"
    } else {
        "look for a missing quote, comma, bracket or equals sign here or just before"
    };
    CHECK.at(site, format!("this is not TOML: {detail}"), mend)
}

/// Something was opened here and never closed.
pub(crate) fn unclosed(site: Site, closed_by: &str) -> Found {
    let what = if matches!(closed_by, "]" | "}") { "bracket" } else { "text" };
    CHECK.at(
        site,
        format!("this is not TOML: the {what} that opens here is never closed"),
        format!("close it with {closed_by}"),
    )
}
