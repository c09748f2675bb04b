//! Checks: what is wrong with a file before anything is read from it: its bytes, its signs and its TOML.

use std::time::Duration;

use super::table::short;
use crate::deck::check::{Found, Site};

checks! {
    CURLY_QUOTES {
        code: "curly-quotes",
        severity: Error,
        says: "curly quotation marks stand where straight ones must",
        why: "Word processors turn straight quotes into curly ones. In TOML those do not open or close a text.",
        example: &["ask = “What trips first?”"],
        mend: "use straight quotes: \" or '",
    }
    NOT_TOML {
        code: "not-toml",
        severity: Error,
        says: "the text is not TOML",
        why: "The program cannot understand the file at this place. The other cards of the file are still read.",
        example: &[r#"ask = "What trips first?"#],
        mend: "usually a quote, a comma, a bracket or an equals sign is missing at the place shown",
    }
    NOT_UTF8 {
        code: "not-utf8",
        severity: Error,
        says: "the file has a byte that is not UTF-8",
        why: "Decks are UTF-8, so that signs such as ° and ≤ are the same on every computer.",
        example: &[
            "[[recall]]",
            r#"ask = "At 15 ?C ..."   # the degree sign was saved as Latin-1"#,
        ],
        mend: "save the file again as UTF-8; nearly every editor offers this under \"save as\" or \"encoding\"",
    }
    SYMBOLIC_LINK {
        code: "symbolic-link",
        severity: Error,
        says: "a file or folder of the deck is a link",
        why: "A link could lead out of the deck, and a published deck must hold its own files.",
        example: &["# cards/air.toml -> /home/somebody/air.toml"],
        mend: "put the file itself in its place",
    }
    TOO_DEEP {
        code: "too-deep",
        severity: Error,
        says: "brackets stand too deep inside one another",
        why: "No deck needs it, and it could use up the memory of the program. The file is not read.",
        example: &[r#"points = [[[[[[[[[["ten brackets deep, and many more"]]]]]]]]]]"#],
        mend: "take the extra brackets out",
    }
    TOO_LARGE {
        code: "too-large",
        severity: Error,
        says: "a file or the whole deck is larger than is read",
        why: "A deck is text, so a file of many megabytes is a mistake or an attack. Nothing of the file is read.",
        example: &["# cards/air.toml is a file of 9 MB"],
        mend: "share the cards over several files, and keep pictures in pictures/",
    }
    TOO_MANY {
        code: "too-many",
        severity: Error,
        says: "there are more files, cards or values than are read",
        why: "Limits keep the time and the memory small, whatever is in a deck.",
        example: &["# a deck of 30,000 cards, or a sequence of 1,000 facts"],
        mend: "make two decks of it",
    }
    UNREAD_FILE {
        code: "unread-file",
        severity: Warning,
        says: "a file or folder that looks like the deck's and is not read",
        why: "Only files whose names end in .toml, in small letters, and the folder cards are read. Many systems hide the \
            end of a name, such as .txt.",
        example: &["# beside deck.toml lies Air.TOML, or air.toml.txt, or a folder Cards"],
        mend: "give it the name that the message says",
    }
    UNREADABLE_FILE {
        code: "unreadable-file",
        severity: Error,
        says: "a file of the deck cannot be read",
        why: "The system did not allow the program to read it, or it is no ordinary file. Its cards are not in the \
            deck.",
        example: &["# cards/air.toml has no read permission"],
        mend: "give the file read permission, or take it out of the deck",
    }
}

pub(crate) fn curly_quotes(site: Site, sign: char) -> Found {
    CURLY_QUOTES.at(
        site,
        format!("the curly quotation mark {sign} cannot open or close a text"),
        "use straight quotes: \"...\"",
    )
}

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

/// What stands at the place of a fault.
#[derive(Default)]
pub(crate) struct Around<'t> {
    /// The sign before it.
    pub(crate) before: Option<char>,
    /// What the parser means.
    pub(crate) here: &'t str,
    /// The sign with which it begins.
    pub(crate) sign: Option<char>,
}

/// What people write for true and false.
const TRUTHS: [(&str, bool); 10] = [
    ("yes", true),
    ("y", true),
    ("on", true),
    ("true", true),
    ("ja", true),
    ("no", false),
    ("n", false),
    ("off", false),
    ("false", false),
    ("nein", false),
];

/// `detail` is the parser's own sentence.
pub(crate) fn not_toml(site: Site, detail: &str, around: Around<'_>) -> Found {
    let Around { before, here, sign } = around;
    if let Some((_, is)) = TRUTHS.iter().find(|(word, _)| *word == here.to_lowercase()) {
        let mend = format!("write {is}, in small letters and without quotes; put text in straight double quotes");
        return NOT_TOML.at(site, format!("this is not TOML: `{here}` is no number and no text in quotes"), mend);
    }
    let is_inside = before == Some('"') && sign.is_some_and(char::is_alphanumeric);
    if is_inside && ["missing comma", "unexpected key or value", "newline"].iter().any(|said| detail.contains(said)) {
        return NOT_TOML.at(
            site,
            "this is not TOML: the quotation mark before this ends the text",
            "where the mark belongs to the text, write \\\" for it; else a comma is missing here",
        );
    }
    if site.start == site.end && detail.contains("must be quoted") {
        return NOT_TOML.at(site, "this is not TOML: the value is missing", "write the value after the equals sign");
    }
    match sign {
        Some(':') if detail.contains("key") => {
            return NOT_TOML.at(
                site,
                "this is not TOML: a colon stands after the key",
                "write an equals sign in its place",
            );
        }
        Some('\u{A0}' | '\u{2009}' | '\u{202F}') => {
            return NOT_TOML.at(
                site,
                "this is not TOML: a space of a special kind stands here",
                "type an ordinary space",
            );
        }
        _ => {}
    }
    match SAYINGS.iter().find(|(said, ..)| detail.contains(said)) {
        Some((_, means, mend)) => NOT_TOML.at(site, format!("this is not TOML: {means}"), *mend),
        None => NOT_TOML.at(
            site,
            format!("this is not TOML: {detail}"),
            "look for a missing quote, comma, bracket or equals sign here or just before",
        ),
    }
}

/// Something was opened here and never closed.
pub(crate) fn not_toml_unclosed(site: Site, closed_by: &str) -> Found {
    let what = if matches!(closed_by, "]" | "}") { "bracket" } else { "text" };
    NOT_TOML.at(
        site,
        format!("this is not TOML: the {what} that opens here is never closed"),
        format!("close it with {closed_by}"),
    )
}

/// A byte (or several) that is no UTF-8.
pub(crate) fn not_utf8(site: Site, bytes: &[u8]) -> Found {
    let shown: Vec<String> = bytes.iter().take(4).map(|b| format!("{b:02X}")).collect();
    NOT_UTF8.at(site, format!("this is not UTF-8 (byte {})", shown.join(" ")), "save the file as UTF-8 in your editor")
}

/// The whole file is in another encoding.
pub(crate) fn not_utf8_whole_file(site: Site, encoding: &str) -> Found {
    NOT_UTF8.at(site, format!("the file is in {encoding}, not in UTF-8"), "save the file as UTF-8 in your editor")
}

/// `name` relative to the deck.
pub(crate) fn symbolic_link(site: Site, name: &str) -> Found {
    SYMBOLIC_LINK.at(
        site,
        format!("`{name}` is a link to another file or folder; links are not followed"),
        "put the file itself in the deck",
    )
}

pub(crate) fn too_deep(site: Site, most: usize) -> Found {
    TOO_DEEP.at(
        site,
        format!("more than {most} brackets stand inside one another here; the file was not read"),
        TOO_DEEP.mend,
    )
}

/// `most` in bytes.
pub(crate) fn too_large_file(site: Site, most: u64) -> Found {
    TOO_LARGE.at(
        site,
        format!("the file is larger than {} MB and was not read", most / 1024 / 1024),
        "share its cards over several files in cards/",
    )
}

/// `most` in bytes.
pub(crate) fn too_large_deck(site: Site, most: u64) -> Found {
    TOO_LARGE.at(
        site,
        format!("the deck's files together are larger than {} MB; this one was not read", most / 1024 / 1024),
        "make two decks of it",
    )
}

/// Parts of one card; `what` in the plural.
pub(crate) fn too_many_of_card(site: Site, what: &str, most: usize) -> Found {
    TOO_MANY.at(
        site,
        format!("there are more than {most} {what}; the rest was not read"),
        "make two or more cards of it",
    )
}

/// Samples that could not all be marked in the time that there is for them.
pub(crate) fn too_slow_samples(site: Site, longest: Duration) -> Found {
    TOO_MANY.at(
        site,
        format!("marking the samples takes more than {} seconds; from here on they were not marked", longest.as_secs()),
        "keep the samples that matter, and make them shorter",
    )
}

/// `what` in the plural.
pub(crate) fn too_many(site: Site, what: &str, most: usize) -> Found {
    TOO_MANY.at(
        site,
        format!("there are more than {most} {what}; the rest was not read"),
        "make two or more decks of it",
    )
}

/// `name` relative to the deck; `meant` is the name that it should have in its folder.
pub(crate) fn unread_file(site: Site, name: &str, meant: &str) -> Found {
    UNREAD_FILE.at(
        site,
        format!("`{}` is not read, because of its name", short(name, 120)),
        format!("if it belongs to the deck, name it `{}`; else take it out", short(meant, 120)),
    )
}

pub(crate) fn unreadable_file(site: Site, why: &str) -> Found {
    UNREADABLE_FILE.at(
        site,
        format!("the file could not be read: {why}"),
        "see to the file's permissions, or take it out of the deck",
    )
}
