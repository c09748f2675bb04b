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

pub(crate) const CHECK: Check = Check::error(
    "not-toml",
    "the text is not TOML",
    "usually a quote, a comma, a bracket or an equals sign is missing at the place shown",
);

/// What the parser says, what it means, and how to mend it.
const SAYINGS: &[(&str, &str, &str)] = &[
    (
        "string values must be quoted",
        "this value is no number and no text in quotes",
        "put text in straight double quotes: \"...\"",
    ),
    ("expected `=`", "there is no = after this key", "write a key, an equals sign and a value: key = \"value\""),
    ("duplicate key", "this stands twice", "keep one of the two, or give the other another name"),
    (
        "missing comma",
        "a comma is missing here",
        "put a comma between the entries; inside a text write \\\" for a quote",
    ),
    (
        "basic string, expected `\"`",
        "the text is not closed on its line",
        "close it with a straight double quote, or use \"\"\" for text of several lines",
    ),
    ("literal string, expected `'`", "the text is not closed on its line", "close it with a straight single quote"),
    (
        "escape",
        "a backslash stands before a sign that it does not go with",
        "write \\\\ for a backslash, or put the text in single quotes",
    ),
    ("unclosed", "a bracket is not closed", "close it with ] or }, as it was opened"),
    (
        "invalid boolean",
        "this value is no number and no text in quotes",
        "write true or false in small letters, or put text in quotes",
    ),
    (
        "unexpected key or value",
        "something stands after the value",
        "a line has one key and one value, and nothing after them but a # with a remark",
    ),
    (
        "invalid unquoted key",
        "this sign cannot stand in a key",
        "a key has letters, digits, - and _, then an equals sign",
    ),
    (
        "keys cannot be empty",
        "the name is missing here",
        "write a key before the equals sign, or a name between the brackets",
    ),
];

/// `detail` is the parser's own sentence, `sign` the sign at its place.
pub(crate) fn found(site: Site, detail: &str, sign: Option<char>) -> Found {
    if site.start == site.end && detail.contains("must be quoted") {
        return CHECK.at(site, "this is not TOML: the value is missing", "write the value after the equals sign");
    }
    match sign {
        Some(':') if detail.contains("key") => {
            return CHECK.at(
                site,
                "this is not TOML: a colon stands after the key",
                "write an equals sign in its place",
            );
        }
        Some('\u{A0}' | '\u{2009}' | '\u{202F}') => {
            return CHECK.at(site, "this is not TOML: a space of a special kind stands here", "type an ordinary space");
        }
        _ => {}
    }
    match SAYINGS.iter().find(|(said, ..)| detail.contains(said)) {
        Some((_, means, mend)) => CHECK.at(site, format!("this is not TOML: {means}"), *mend),
        None => CHECK.at(
            site,
            format!("this is not TOML: {detail}"),
            "look for a missing quote, comma, bracket or equals sign here or just before",
        ),
    }
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
