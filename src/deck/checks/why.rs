//! Checks: what is wrong with a chain of causes.

use super::table::short;
use crate::deck::check::{Found, Site};

checks! {
    EQUAL_LINKS {
        code: "equal-links",
        severity: Error,
        says: "two links of a why that read the same",
        why: "The learner could not tell the two apart. Capital letters, spaces and punctuation make no difference.",
        example: &["[[why]]", r#"links = ["Pump stops", "Oil pressure falls", "pump stops"]"#],
        mend: "reword or take out one of them",
    }
    FALSE_LINK_IS_TRUE {
        code: "false-link-is-true",
        severity: Error,
        says: "a false link that is also a link",
        why: "A link cannot be right and wrong at once, so the learner's choice could not be marked.",
        example: &[
            "[[why]]",
            r#"links = ["Pump stops", "Pressure falls"]"#,
            r#"false_links = ["Pump stops"]"#,
        ],
        mend: "take it out of one of the two lists",
    }
    TOO_FEW_LINKS {
        code: "too-few-links",
        severity: Error,
        says: "a why with fewer than two links",
        why: "A chain of causes has at least two links. One alone cannot be put in order.",
        example: &["[[why]]", r#"links = ["Sea water blocked"]"#],
        mend: "give two or more causes",
    }
}

pub(crate) fn equal_links(site: Site, text: &str) -> Found {
    let shown = short(text, 60);
    EQUAL_LINKS.at(site, format!("the link `{shown}` is there twice"), "reword one of them or take it out")
}

pub(crate) fn false_link_is_true(site: Site, text: &str) -> Found {
    let shown = short(text, 60);
    FALSE_LINK_IS_TRUE.at(
        site,
        format!("the false link `{shown}` is one of the links too"),
        "take it out of `false_links`, or out of `links`",
    )
}

pub(crate) fn too_few_links(site: Site) -> Found {
    TOO_FEW_LINKS.at(site, "a why needs at least two links", "give two or more causes, from the first to what was seen")
}
