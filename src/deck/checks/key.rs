//! Checks: what is wrong with the keys, ids and types of a table, whatever it is.

use super::table::short;
use crate::deck::check::{Found, Site};
use crate::deck::suggest;

checks! {
    BAD_ID {
        code: "bad-id",
        severity: Error,
        says: "an id that is not made of lower-case letters, digits and hyphens",
        why: "Answers are kept under the id for years. So it must be plain, and it must never change.",
        example: &[r#"id = "Priming Pump""#],
        mend: "use lower-case letters, digits and hyphens, at most 100",
    }
    MISSING_KEY {
        code: "missing-key",
        severity: Error,
        says: "a key that must be there is not",
        why: "The card or the deck cannot be used without this key.",
        example: &["[[recall]]", r#"id = "no-question"   # and no ask"#],
        mend: "add the key under the table header shown",
    }
    UNKNOWN_KEY {
        code: "unknown-key",
        severity: Error,
        says: "a key that its table does not have",
        why: "A misspelt key would be passed over in silence, and the card would not do what you mean.",
        example: &[
            "[[recall]]",
            r#"points = [{ say = "The switch trips it", acccept = ["pressure switch"] }]"#,
        ],
        mend: "write the key as the manual gives it",
    }
    UNKNOWN_KIND {
        code: "unknown-kind",
        severity: Error,
        says: "a table that is no kind of card",
        why: "The program does not know what to do with such a table, so nothing in it would be asked.",
        example: &["[[recal]]", r#"id = "trips""#],
        mend: "write one of the kinds that the manual names",
    }
    WRONG_TYPE {
        code: "wrong-type",
        severity: Error,
        says: "a value of the wrong type",
        why: "Each key takes one type of value: a text, a number, true or false, or a list.",
        example: &["[[recall]]", r#"seconds = "forty""#],
        mend: "write the type that the message names",
    }
}

pub(crate) fn bad_id(site: Site, id: &str) -> Found {
    let better = better_id(id);
    let mend = if better.is_empty() {
        BAD_ID.mend.to_owned()
    } else {
        format!("use lower-case letters, digits and hyphens, at most 100: `{better}`")
    };
    let shown = short(id, 60);
    BAD_ID.at(site, format!("`{shown}` is no id"), mend)
}

/// The nearest right id.
fn better_id(id: &str) -> String {
    let folded = id.to_lowercase();
    let words = folded.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
    words.collect::<Vec<_>>().join("-").chars().take(60).collect()
}

/// `of` is the table in words; `sample` is how the key is written.
pub(crate) fn missing_key(site: Site, key: &str, of: &str, sample: &str) -> Found {
    MISSING_KEY.at(site, format!("{of} must have `{key}`"), format!("add {sample}"))
}

/// `of` is the table in words, such as `a recall card`.
pub(crate) fn unknown_key(site: Site, key: &str, of: &str, allowed: &[&str]) -> Found {
    UNKNOWN_KEY.at(site, format!("{of} has no key `{}`", short(key, 60)), suggest::mend(key, allowed.iter().copied()))
}

/// A key above the first card of a card file.
pub(crate) fn key_outside_cards(site: Site, key: &str) -> Found {
    let mend =
        "put it under the header of its card, such as [[recall]]; what is said of the whole deck stands in deck.toml";
    UNKNOWN_KEY.at(site, format!("`{}` stands outside every card", short(key, 60)), mend)
}

/// `kinds` are the kinds of card, and whatever else may stand at the top of this file.
pub(crate) fn unknown_kind(site: Site, word: &str, kinds: &[&str]) -> Found {
    let shown = short(word, 60);
    UNKNOWN_KIND.at(
        site,
        format!("there is no kind of card called `{shown}`"),
        suggest::mend(word, kinds.iter().copied()),
    )
}

/// Sources in a card file.
pub(crate) fn source_in_card_file(site: Site) -> Found {
    UNKNOWN_KIND.at(site, "sources cannot stand in a card file", "move them to deck.toml")
}

/// `wanted` and `got` in words, such as `a text` and `a number`.
pub(crate) fn wrong_type(site: Site, key: &str, wanted: &str, got: &str, mend: &str) -> Found {
    WRONG_TYPE.at(site, format!("`{key}` must be {wanted}, and this is {got}"), mend)
}
