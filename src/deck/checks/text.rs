//! Checks: what is wrong with a text, wherever it stands.

use crate::deck::check::{Found, Site};
use crate::deck::signs::BadSign;

checks! {
    CONTROL_CHARACTER {
        code: "control-character",
        severity: Error,
        says: "a control character",
        why: "Nobody can see it or type it, and it can upset a terminal.",
        example: &[r#"ask = "What\u0007 trips first?""#],
        mend: "delete it and type the text again at that place",
    }
    EMPTY_TEXT {
        code: "empty-text",
        severity: Error,
        says: "a text with nothing in it",
        why: "There would be nothing to read, or nothing to compare an answer with.",
        example: &[r#"ask = " ""#],
        mend: "write the text, or take the key out where it is not needed",
    }
    HIDDEN_CHARACTER {
        code: "hidden-character",
        severity: Error,
        says: "a sign that is not seen or that turns the direction of writing",
        why: "What the learner sees on the screen would not be what the deck says.",
        example: &[r#"ask = "Shut \u202Eneppo""#],
        mend: "delete it and type the text again at that place",
    }
    LONG_SENTENCE {
        code: "long-sentence",
        severity: Advice,
        says: "a question with a sentence of more than 25 words",
        why: "English is a second language for many readers, and at the oral they hear the question only once.",
        example: &[
            "[[recall]]",
            r#"ask = "What do you do, when on watch alone at night with the engine at full sea speed, if the oil mist detector of the main engine gives its alarm?""#,
        ],
        mend: "make two sentences of it",
    }
    TOO_LONG {
        code: "too-long",
        severity: Error,
        says: "a text is too long",
        why: "A question or an answer of many pages cannot be shown or learnt.",
        example: &["[[recall]]", r#"ask = "..."   # 20,001 characters"#],
        mend: "shorten the text",
    }
    UNKNOWN_SIGN {
        code: "unknown-sign",
        severity: Warning,
        says: "a sign that the program's fonts do not have",
        why: "The program's fonts do not have this sign, so an empty box would be shown in its place.",
        example: &["[[recall]]", r#"ask = "When is the ⏻ key pressed?""#],
        mend: "write it in words, or use another sign",
    }
}

pub(crate) fn control_character(site: Site, sign: char) -> Found {
    CONTROL_CHARACTER.at(
        site,
        format!("a control character (U+{:04X}) stands here", u32::from(sign)),
        "delete it and type the text again at this place",
    )
}

pub(crate) fn empty_text(site: Site, key: &str) -> Found {
    EMPTY_TEXT.at(site, format!("`{key}` is empty"), "write the text, or take it out if it is not needed")
}

/// An entry of a list.
pub(crate) fn empty_text_entry(site: Site, key: &str) -> Found {
    EMPTY_TEXT.at(site, format!("an entry of `{key}` is empty"), "write the text, or take the entry out")
}

pub(crate) fn hidden_character(site: Site, sign: char, sort: BadSign) -> Found {
    let does = if sort == BadSign::Direction { "turns the direction of writing" } else { "is not seen" };
    HIDDEN_CHARACTER.at(
        site,
        format!("a sign that {does} (U+{:04X}) stands here", u32::from(sign)),
        "delete it and type the text again at this place",
    )
}

pub(crate) fn long_sentence(site: Site, words: usize, most: usize) -> Found {
    LONG_SENTENCE.at(
        site,
        format!("a sentence of this question has {words} words"),
        format!("make two sentences of it: at most {most} words each"),
    )
}

pub(crate) fn too_long(site: Site, key: &str, most: usize) -> Found {
    TOO_LONG.at(site, format!("`{key}` is longer than {most} characters"), "shorten it")
}

pub(crate) fn unknown_sign(site: Site, sign: char) -> Found {
    UNKNOWN_SIGN.at(
        site,
        format!("the program's fonts have no sign {sign} (U+{:04X})", u32::from(sign)),
        UNKNOWN_SIGN.mend,
    )
}
