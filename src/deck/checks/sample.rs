//! Checks: what is wrong with the sample answers of a card.

use super::table::short;
use crate::deck::check::{Found, Site};
use crate::deck::suggest;
use crate::domain::sample::Difference;

checks! {
    SAMPLE_ANSWER {
        code: "sample-answer",
        severity: Error,
        says: "a sample whose answer the card cannot be given",
        why: "A sample is marked as a learner's answer is. What no learner can answer cannot be marked.",
        example: &["[[figure]]", r#"samples = [{ said = [1], outcome = "answered" }]"#],
        mend: "write the answer as `bedplate try` takes it for a card of this kind",
    }
    SAMPLE_DIFFERS {
        code: "sample-differs",
        severity: Error,
        says: "a sample answer that is marked otherwise than it expects",
        why: "Learners who answer so are marked so. Either the card does not do what it should, or the sample expects too \
            much.",
        example: &[
            "[[recall]]",
            r#"points = [{ say = "The full tank is shut last", accept = ["shut full tank last"] }]"#,
            r#"samples = [{ text = "I shut the full tank first", says = [1] }]"#,
        ],
        mend: "mend the card's phrases, values or model, or expect what is right",
    }
    SAMPLE_DOUBLE {
        code: "sample-double",
        severity: Error,
        says: "a sample answer, or a point in one, that stands twice",
        why: "What is said twice may be said in two ways, and then nobody knows which is meant.",
        example: &["[[recall]]", r#"samples = [{ text = "The pump starts", says = [1, 1] }]"#],
        mend: "write it once",
    }
    SAMPLE_EXPECTATION {
        code: "sample-expectation",
        severity: Error,
        says: "a sample that expects what a card of its kind does not have",
        why: "Only recall cards have points, only figures and workings have slips, and only sequences have orders.",
        example: &["[[why]]", "samples = [{ links = [1, 2], says = [1] }]"],
        mend: "expect an outcome, or what a card of this kind has",
    }
    SAMPLE_EXPECTS_NOTHING {
        code: "sample-expects-nothing",
        severity: Error,
        says: "a sample that does not say what its answer must come to",
        why: "Whatever the marker makes of such an answer, the sample would be content with it.",
        example: &["[[figure]]", r#"samples = [{ text = "30 bar" }]"#],
        mend: "add what it must come to, such as outcome = \"answered\"",
    }
    SAMPLE_POINT {
        code: "sample-point",
        severity: Error,
        says: "a sample that names a point which the card does not have",
        why: "Points are numbered from 1 in the order of the card. No answer can say or deny a point that is not there.",
        example: &[
            "[[recall]]   # a card of three points",
            r#"samples = [{ text = "The pump starts", says = [4] }]"#,
        ],
        mend: "write the number of one of the card's points",
    }
    UNKNOWN_ORDER {
        code: "unknown-order",
        severity: Error,
        says: "an order in words that the program does not know",
        why: "There is one such order: the one that the program finds by itself. Any other is written as steps.",
        example: &["[[sequence]]", r#"samples = [{ order = "the usual one" }]"#],
        mend: "write order = \"one that works\", or the steps themselves",
    }
    UNKNOWN_OUTCOME {
        code: "unknown-outcome",
        severity: Error,
        says: "an outcome that there is not",
        why: "An answer comes to one of four outcomes, and the sample is held against these words.",
        example: &["[[figure]]", r#"samples = [{ text = "30 bar", outcome = "right" }]"#],
        mend: "write missed, prompted, answered or fluent",
    }
    UNKNOWN_SLIP {
        code: "unknown-slip",
        severity: Error,
        says: "a slip that there is not",
        why: "A slip in a number is one of four sorts, and the sample is held against these words.",
        example: &["[[figure]]", r#"samples = [{ text = "30", slip = "no unit" }]"#],
        mend: "write unit, power-of-ten, dimension or deck",
    }
}

/// `why` is what the forms of answers, or the marker, say of it.
pub(crate) fn sample_answer(site: Site, why: &str) -> Found {
    SAMPLE_ANSWER.at(site, format!("the sample cannot be marked: {why}"), SAMPLE_ANSWER.mend)
}

/// A sample that wants an order found where no order works.
pub(crate) fn sample_answer_no_order(site: Site) -> Found {
    SAMPLE_ANSWER.at(site, "the sample cannot be marked: no order that works was found", "write the steps themselves")
}

/// There is at least one difference.
pub(crate) fn sample_differs(site: Site, differences: &[Difference]) -> Found {
    let found: Vec<String> = differences.iter().map(Difference::to_string).collect();
    SAMPLE_DIFFERS.at(site, format!("the sample is marked otherwise: {}", found.join("; ")), SAMPLE_DIFFERS.mend)
}

/// The same answer as in a sample above.
pub(crate) fn sample_double(site: Site) -> Found {
    SAMPLE_DOUBLE.at(
        site,
        "a sample above gives the same answer",
        "say in one sample all that is expected of the answer, or give another answer",
    )
}

/// A point that is named twice among what is expected.
pub(crate) fn sample_double_point(site: Site, point: i64) -> Found {
    SAMPLE_DOUBLE.at(site, format!("the sample names point {point} twice"), "name it once, in `says` or in `denies`")
}

/// `one` is a card of the kind in words, `may` the expectations that it can have.
pub(crate) fn sample_expectation(site: Site, key: &str, one: &str, may: &[&str]) -> Found {
    SAMPLE_EXPECTATION.at(
        site,
        format!("{one} has nothing that `{key}` could be held against"),
        format!("expect `{}` instead", may.join("` or `")),
    )
}

/// `may` are the expectations that a card of the kind can have.
pub(crate) fn sample_expects_nothing(site: Site, may: &[&str]) -> Found {
    SAMPLE_EXPECTS_NOTHING.at(
        site,
        "the sample does not say what its answer must come to",
        format!("add `{}`", may.join("` or `")),
    )
}

/// `count` is how many points the card has.
pub(crate) fn sample_point(site: Site, point: i64, count: usize) -> Found {
    let mend = if count == 1 { "the card has point 1 alone".to_owned() } else { format!("use 1 to {count}") };
    SAMPLE_POINT.at(site, format!("the card has no point {point}"), mend)
}

pub(crate) fn unknown_order(site: Site, order: &str) -> Found {
    UNKNOWN_ORDER.at(site, format!("there is no order called `{}`", short(order, 60)), UNKNOWN_ORDER.mend)
}

/// `known` are the outcomes.
pub(crate) fn unknown_outcome(site: Site, outcome: &str, known: &[&str]) -> Found {
    let mend = suggest::mend(outcome, known.iter().copied());
    UNKNOWN_OUTCOME.at(site, format!("there is no outcome `{}`", short(outcome, 60)), mend)
}

/// `known` are the sorts of slip.
pub(crate) fn unknown_slip(site: Site, slip: &str, known: &[&str]) -> Found {
    UNKNOWN_SLIP.at(site, format!("there is no slip `{}`", short(slip, 60)), suggest::mend(slip, known.iter().copied()))
}
