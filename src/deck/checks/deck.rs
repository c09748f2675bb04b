//! Checks: what is wrong with a deck as a whole, or with the head of its `deck.toml`.

use super::table::short;
use crate::deck::check::{Found, Severity, Site};

checks! {
    BAD_EDITION {
        code: "bad-edition",
        severity: Error,
        says: "an edition that is no whole number from 1",
        why: "Editions count publications, so that everybody knows which text an answer belongs to.",
        example: &["edition = 1.5"],
        mend: "begin with 1 and add one at each publication",
    }
    BAD_LANGUAGE {
        code: "bad-language",
        severity: Error,
        says: "a language that is no language tag",
        why: "The tag says in which language the deck is read aloud and sorted.",
        example: &[r#"language = "English""#],
        mend: "use a tag such as en, en-GB or nb",
    }
    EMPTY_DECK {
        code: "empty-deck",
        severity: Warning,
        says: "a deck with no cards",
        why: "There is nothing to learn in it. Card files stand beside deck.toml or in the folder cards/, and their \
            names end in .toml.",
        example: &[
            "# deck.toml, and no other file beside it",
            r#"id = "air""#,
            r#"title = "Starting air""#,
        ],
        mend: "add cards, or look whether the card files are where they are read",
    }
    MISSING_DETAIL {
        code: "missing-detail",
        severity: Warning,
        says: "a deck that does not say its language, its publisher or its licence",
        why: "Learners and other instructors must know whose deck it is and what they may do with it.",
        example: &["# deck.toml, with no licence", r#"id = "air""#],
        mend: "add the key to deck.toml",
    }
    TOO_MANY_PROBLEMS {
        code: "too-many-problems",
        severity: Warning,
        says: "there are more problems than are listed",
        why: "Ten thousand errors (or warnings, or pieces of advice) are enough for one sitting.",
        example: &["# a deck with ten thousand and one errors"],
        mend: "mend those listed and check again",
    }
    UNREADABLE_DECK {
        code: "unreadable-deck",
        severity: Error,
        says: "there is no deck to read at the path given",
        why: "The path is no folder, or the folder holds no deck.toml that can be read. Only this ends the command \
            with exit code 2.",
        example: &["# bedplate check no-such-folder"],
        mend: "name the folder that holds deck.toml",
    }
}

pub(crate) fn bad_edition(site: Site) -> Found {
    BAD_EDITION.at(site, "`edition` must be a whole number from 1", BAD_EDITION.mend)
}

pub(crate) fn bad_language(site: Site, tag: &str) -> Found {
    let shown = short(tag, 60);
    BAD_LANGUAGE.at(site, format!("`{shown}` is no language tag"), "use a tag such as `en`, `en-GB` or `nb`")
}

pub(crate) fn empty_deck(site: Site) -> Found {
    EMPTY_DECK.at(site, "the deck has no cards", "add card files (*.toml) beside deck.toml or in cards/")
}

pub(crate) fn missing_detail(site: Site, key: &str, sample: &str) -> Found {
    MISSING_DETAIL.at(site, format!("the deck does not say its `{key}`"), format!("add {sample}"))
}

/// `worst` is the severity of the worst problem left out.
pub(crate) fn too_many_problems(worst: Severity, site: Site) -> Found {
    TOO_MANY_PROBLEMS.at(
        site,
        format!("there are more problems of this sort than are listed: {}", worst.word()),
        TOO_MANY_PROBLEMS.mend,
    )
}

pub(crate) fn unreadable_deck(site: Site, message: &str, mend: &str) -> Found {
    UNREADABLE_DECK.at(site, message, mend)
}
