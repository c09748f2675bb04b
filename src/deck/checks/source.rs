//! Checks: what is wrong with sources and with how cards cite them.

use super::table::short;
use crate::deck::check::{Found, Site};
use crate::deck::suggest;

checks! {
    NO_SOURCE {
        code: "no-source",
        severity: Error,
        says: "a card with no source",
        why: "Every fact must say where it comes from. Common practice is a source too, when the deck says so plainly.",
        example: &["[[recall]]", "sources = []"],
        mend: "name at least one key of deck.toml's sources; for common practice make a source of kind \"practice\"",
    }
    REPEATED_SOURCE {
        code: "repeated-source",
        severity: Warning,
        says: "a card that cites the same source twice",
        why: "To name a source twice says nothing more. Probably another source is meant.",
        example: &["[[recall]]", r#"sources = ["solas", "solas"]"#],
        mend: "take one out or name the other source",
    }
    UNKNOWN_SOURCE {
        code: "unknown-source",
        severity: Error,
        says: "a card cites a source that the deck does not have",
        why: "A learner must be able to find where every fact comes from.",
        example: &[
            "[[recall]]",
            r#"sources = ["solas-2-1"]   # and deck.toml has no [source.solas-2-1]"#,
        ],
        mend: "add a [source.key] table to deck.toml, or write the key as it stands there",
    }
    UNKNOWN_SOURCE_KIND {
        code: "unknown-source-kind",
        severity: Error,
        says: "a source of an unknown kind",
        why: "Learners are shown what sort of source stands behind a fact.",
        example: &["[source.solas]", r#"title = "SOLAS""#, r#"kind = "law""#],
        mend: "use convention, standard, class-rule, textbook or practice",
    }
    UNUSED_SOURCE {
        code: "unused-source",
        severity: Advice,
        says: "a source that no card cites",
        why: "Perhaps its card was taken out, or a card has lost its source.",
        example: &["[source.old-rule]   # and no card cites it", r#"title = "An older rule""#],
        mend: "cite it or take it out",
    }
}

pub(crate) fn no_source(site: Site) -> Found {
    NO_SOURCE.at(
        site,
        "this card has no source",
        "name at least one: sources = [\"key-of-a-source\"]; common practice is a source of kind \"practice\"",
    )
}

pub(crate) fn repeated_source(site: Site, key: &str) -> Found {
    let shown = short(key, 60);
    REPEATED_SOURCE.at(
        site,
        format!("the source `{shown}` is named twice"),
        "take one out, or name the source that was meant",
    )
}

pub(crate) fn unknown_source<'a>(site: Site, key: &str, keys: impl Iterator<Item = &'a str> + Clone) -> Found {
    let shown = short(key, 60);
    let mend = match suggest::nearest(key, keys) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("add [source.{shown}] with its title and kind to deck.toml"),
    };
    UNKNOWN_SOURCE.at(site, format!("the deck has no source `{shown}`"), mend)
}

pub(crate) fn unknown_source_kind(site: Site, word: &str, allowed: &[&str]) -> Found {
    let shown = short(word, 60);
    UNKNOWN_SOURCE_KIND.at(
        site,
        format!("there is no kind of source called `{shown}`"),
        suggest::mend(word, allowed.iter().copied()),
    )
}

pub(crate) fn unused_source(site: Site, key: &str) -> Found {
    UNUSED_SOURCE.at(site, format!("no card cites the source `{key}`"), "cite it, or take it out")
}
