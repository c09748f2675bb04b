//! Checks: what is wrong with key points and their phrases.

use super::table::short;
use crate::deck::check::{Found, Site};

checks! {
    ACCEPT_AND_REJECT {
        code: "accept-and-reject",
        severity: Warning,
        says: "a phrase that a key point both accepts and refuses",
        why: "The phrase would make the point and deny it at once, so no answer with it could be marked.",
        example: &[
            r#"points = [{ say = "The pressure is low", accept = ["low pressure"], reject = ["low pressure"] }]"#,
        ],
        mend: "take it out of one of the two, or make the refused phrase longer",
    }
    NO_ACCEPT {
        code: "no-accept",
        severity: Advice,
        says: "a key point of many words with no `accept`",
        why: "Few learners use just the words of the deck. With short phrases the program finds the point in other \
            words too.",
        example: &[
            "[[recall]]",
            r#"points = [{ say = "The pump driven by the engine now supplies the bearings" }]"#,
        ],
        mend: "add two to five short phrases that make the point",
    }
    POINT_COUNT {
        code: "point-count",
        severity: Error,
        says: "too few or too many key points",
        why: "The keys 1 to 9 tick the points, and no examiner waits for ten.",
        example: &["[[recall]]", "points = []"],
        mend: "give one to nine points; share a long list over several cards",
    }
    SHARED_PHRASE {
        code: "shared-phrase",
        severity: Warning,
        says: "the same phrase in two key points of a card",
        why: "One phrase of an answer would count for both points.",
        example: &[
            "[[recall]]",
            r#"points = [{ say = "The pressure falls", accept = ["low oil pressure"] }, { say = "The trip acts", accept = ["low oil pressure"] }]"#,
        ],
        mend: "keep the phrase at the point that it carries",
    }
    UNMATCHABLE_PHRASE {
        code: "unmatchable-phrase",
        severity: Warning,
        says: "an accepted or refused phrase in which there is no word to look for",
        why: "Signs alone say nothing, and the smallest words (the, of, is) stand in every answer. So the phrase makes \
            no point.",
        example: &[
            "[[recall]]",
            r#"points = [{ say = "The pump starts", accept = ["it is the"] }]"#,
        ],
        mend: "write one to four words that carry the point",
    }
    UNMATCHABLE_POINT {
        code: "unmatchable-point",
        severity: Warning,
        says: "a key point that no accepted phrase can match",
        why: "Neither `say` nor `accept` has a word to look for, so no typed answer can make the point.",
        example: &["[[recall]]", r#"points = [{ say = "...", accept = ["it is"] }]"#],
        mend: "write the point in `say`, and phrases of one to four words in `accept`",
    }
}

pub(crate) fn accept_and_reject(site: Site, phrase: &str) -> Found {
    let shown = short(phrase, 60);
    ACCEPT_AND_REJECT.at(site, format!("`{shown}` is both accepted and refused"), ACCEPT_AND_REJECT.mend)
}

pub(crate) fn no_accept(site: Site) -> Found {
    NO_ACCEPT.at(
        site,
        "this key point is long and has no `accept`: a typed answer will hardly match it",
        "add two to five phrases of one to four words: accept = [\"...\"]",
    )
}

pub(crate) fn point_count(site: Site, count: usize) -> Found {
    if count == 0 {
        POINT_COUNT.at(site, "there are no key points", "give one to nine: points = [{ say = \"...\" }]")
    } else {
        POINT_COUNT.at(
            site,
            format!("there are {count} key points, and at most 9 can be ticked"),
            "share them over two cards",
        )
    }
}

pub(crate) fn shared_phrase(site: Site, phrase: &str, other: usize) -> Found {
    let shown = short(phrase, 60);
    SHARED_PHRASE.at(
        site,
        format!("`{shown}` is a phrase of key point {other} too"),
        "keep it at the point that it carries",
    )
}

/// `key` is `accept` or `reject`.
pub(crate) fn unmatchable_phrase(site: Site, key: &str) -> Found {
    UNMATCHABLE_PHRASE.at(
        site,
        format!("this phrase of `{key}` has no word that could be looked for"),
        UNMATCHABLE_PHRASE.mend,
    )
}

pub(crate) fn unmatchable_point(site: Site) -> Found {
    UNMATCHABLE_POINT.at(
        site,
        "no phrase of this key point has a word that a typed answer could match",
        UNMATCHABLE_POINT.mend,
    )
}
