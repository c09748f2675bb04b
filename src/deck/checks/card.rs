//! Checks: what may be wrong with a card of any kind.

use super::table::short;
use crate::deck::check::{Found, Site};
use crate::deck::{competences, suggest};

checks! {
    BAD_PROBE {
        code: "bad-probe",
        severity: Error,
        says: "a probe whose `after` does not fit its card",
        why: "`after` says when the examiner asks the probe. If it names no moment or no point of the card, the probe \
            is never asked.",
        example: &[
            "[[recall]]   # a card of three points",
            r#"probes = [{ after = "missed:7", ask = "Why is that?", points = [{ say = "It would seize" }] }]"#,
        ],
        mend: "write \"all\", or on a recall card \"missed:2\" or \"said:1\" with the number of one of its points",
    }
    BAD_SECONDS {
        code: "bad-seconds",
        severity: Error,
        says: "seconds that are not above zero",
        why: "The seconds are the time that a good spoken answer takes, so they are more than zero.",
        example: &["[[recall]]", "seconds = 0"],
        mend: "give the time a good spoken answer takes, such as 40, or leave it out",
    }
    BAD_WEIGHT {
        code: "bad-weight",
        severity: Error,
        says: "a weight other than 1, 2 or 3",
        why: "The weight says how much a card matters: 1 is a little, 2 is as usual, 3 is much.",
        example: &["[[recall]]", "weight = 5"],
        mend: "use 1, 2 or 3, or leave it out for 2",
    }
    BECAUSE_ALONE {
        code: "because-alone",
        severity: Error,
        says: "key points of a reason on a card that gives no reason",
        why: "At the oral the examiner would ask for a reason that the learner is never shown.",
        example: &[
            r#"[[recall]]   # with no because = "...""#,
            r#"because_points = [{ say = "Hot oil mist needs only a spark" }]"#,
        ],
        mend: "write the reason in because, or take because_points away",
    }
    DUPLICATE_ID {
        code: "duplicate-id",
        severity: Error,
        says: "two cards of the deck with the same id",
        why: "An id is a card's name for ever, because answers are kept under it. No two cards of a deck may share \
            one, in whatever file or kind.",
        example: &["[[recall]]", r#"id = "full-air""#, "[[figure]]", r#"id = "full-air""#],
        mend: "give the newer card another id",
    }
    LIKE_ASK {
        code: "like-ask",
        severity: Warning,
        says: "two cards that ask nearly the same",
        why: "Learners mix up cards that look alike, and then know neither of them well.",
        example: &[
            "[[recall]]",
            r#"ask = "Which trips act at once on a diesel alternator?""#,
            "[[recall]]",
            r#"ask = "Which trips act at once on the diesel alternator itself?""#,
        ],
        mend: "reword one of them, or leave it if they really differ",
    }
    NO_BECAUSE {
        code: "no-because",
        severity: Advice,
        says: "a card with no `because`",
        why: "Examiners ask why, and a fact stays in mind with its reason.",
        example: &["[[figure]]   # with no because", r#"value = "30 bar""#],
        mend: "add the reason in a sentence or two",
    }
    NO_SECONDS {
        code: "no-seconds",
        severity: Advice,
        says: "a card with no `seconds`",
        why: "If the card does not say how long a good answer takes, no answer to it can count as fluent.",
        example: &["[[recall]]   # with no seconds", r#"id = "trips""#],
        mend: "add the time that a good spoken answer takes",
    }
    SAME_ASK {
        code: "same-ask",
        severity: Error,
        says: "two cards that ask the same",
        why: "The learner could not know which of the two answers is wanted. Capital letters, spaces and punctuation \
            make no difference.",
        example: &[
            "[[recall]]",
            r#"ask = "What trips first?""#,
            "[[recall]]",
            r#"ask = "what trips first""#,
        ],
        mend: "make one card of the two, or say in each question what is different",
    }
    TOO_COMPLEX {
        code: "too-complex",
        severity: Error,
        says: "a sequence or a line-up that is too entangled to be judged",
        why: "There are so many orders, or settings, that the program cannot look through all of them and tell right \
            from wrong.",
        example: &[
            "[[sequence]]   # thirty steps, most of which give and take facts of one another",
            r#"id = "black-start""#,
        ],
        mend: "make two cards of it, or let more steps need one another",
    }
    UNKNOWN_COMPETENCE {
        code: "unknown-competence",
        severity: Error,
        says: "a topic that is no competence of the STCW tables",
        why: "Cards are counted under the competences of the tables A-III/1, A-III/2 and A-III/6 of the STCW Code.",
        example: &["[[recall]]", r#"topic = "A-III/1.9.1""#],
        mend: "use a key of table, function and competence such as A-III/1.2.1",
    }
}

/// `points` is how many key points the card has; none for a card without points.
pub(crate) fn bad_probe(site: Site, after: &str, points: Option<usize>) -> Found {
    let shown = short(after, 60);
    match points {
        None => {
            BAD_PROBE.at(site, format!("a probe after `{shown}` needs a card with key points"), "write after = \"all\"")
        }
        Some(0) => BAD_PROBE.at(
            site,
            format!("`{shown}` does not say when the probe is asked"),
            "write \"all\", \"missed:1\" or \"said:1\"",
        ),
        Some(count) => {
            let mend = format!("write \"all\", or \"missed:\" or \"said:\" with a number from 1 to {count}");
            BAD_PROBE.at(site, format!("`{shown}` names no key point of this card"), mend)
        }
    }
}

pub(crate) fn bad_seconds(site: Site) -> Found {
    BAD_SECONDS.at(
        site,
        "`seconds` must be a number above zero",
        "give the time that a good answer takes, such as 40, or leave it out",
    )
}

pub(crate) fn bad_weight(site: Site) -> Found {
    BAD_WEIGHT.at(site, "`weight` must be 1, 2 or 3", BAD_WEIGHT.mend)
}

/// At `site` stand the key points.
pub(crate) fn because_alone(site: Site) -> Found {
    BECAUSE_ALONE.at(
        site,
        "`because_points` marks the reason, but the card has no `because`",
        "write because = \"the reason\", or take because_points away",
    )
}

/// `first` says where the first stands: file and line.
pub(crate) fn duplicate_id(site: Site, id: &str, first: &str) -> Found {
    DUPLICATE_ID.at(
        site,
        format!("another card of this deck has the id `{id}` already, in {first}"),
        "give this card another id",
    )
}

/// `first` says where the first stands.
pub(crate) fn like_ask(site: Site, first: &str) -> Found {
    LIKE_ASK.at(
        site,
        format!("this asks nearly the same as {first}"),
        "reword one of the two if a learner could mix them up",
    )
}

pub(crate) fn no_because(site: Site) -> Found {
    NO_BECAUSE.at(site, "this card gives no reason", "add because = \"...\" in a sentence or two")
}

pub(crate) fn no_seconds(site: Site) -> Found {
    NO_SECONDS.at(
        site,
        "this card does not say how long a good answer takes",
        "add seconds = 40 or so; without it no answer counts as fluent",
    )
}

/// `first` says where the first stands.
pub(crate) fn same_ask(site: Site, first: &str) -> Found {
    SAME_ASK.at(
        site,
        format!("this asks the same as {first}"),
        "make one card of the two, or say in the question what is different",
    )
}

pub(crate) fn too_complex_sequence(site: Site) -> Found {
    TOO_COMPLEX.at(
        site,
        "this sequence has too many steps that may stand in any order for its orders to be judged",
        "make two sequences of it, or let more steps need one another",
    )
}

pub(crate) fn too_complex_lineup(site: Site) -> Found {
    TOO_COMPLEX.at(
        site,
        "this line-up has too many valves on ways that cross for its settings to be judged",
        "make two line-ups of it, or fix the valves that are not asked about",
    )
}

pub(crate) fn unknown_competence(site: Site, topic: &str) -> Found {
    let all = competences();
    let shown = short(topic, 60);
    let keys: Vec<&str> = all.all().map(|c| c.key.as_str()).collect();
    let inside: Vec<&str> = keys.iter().copied().filter(|key| is_inside(key, topic)).collect();
    let mend = match inside.as_slice() {
        [first, .., last] => format!("name one competence of it, from `{first}` to `{last}`"),
        _ => match suggest::nearest(topic, keys.iter().copied()) {
            Some(near) => format!("use a key of table, function and competence, such as `{near}`"),
            None => "use a key of table, function and competence, such as `A-III/1.2.1`".to_owned(),
        },
    };
    UNKNOWN_COMPETENCE.at(site, format!("`{shown}` is no competence of the tables A-III/1, A-III/2 and A-III/6"), mend)
}

/// Whether `topic` is the table or the function that the key belongs to.
fn is_inside(key: &str, topic: &str) -> bool {
    key.strip_prefix(topic).is_some_and(|rest| rest.starts_with('.'))
}
