//! Checks: what is wrong with a calculation: its givens, method, answer and slips.

use super::table::short;
use crate::deck::check::{Found, Site};
use crate::deck::suggest;
use crate::domain::quantity::{ExpressionError, QuantityError, expression};

checks! {
    ANSWER_UNIT {
        code: "answer-unit",
        severity: Error,
        says: "a formula whose unit does not fit the answer's",
        why: "A formula that comes to square metres cannot give an answer in kilowatts; a slip of that sort would \
            never be recognised.",
        example: &["[working.answer]", r#"is = "bore^2""#, r#"unit = "kW""#],
        mend: "see which figure the formula lacks or has too many, or ask for another unit",
    }
    BAD_ASKS {
        code: "bad-asks",
        severity: Error,
        says: "a unit asked for that is not what the answer's rate is of",
        why: "With `asks` a learner may answer \"how many tonnes in a day\" with tonnes. So the answer must be a rate: \
            tonnes over something.",
        example: &[
            "[[working]]",
            r#"asks = "m3""#,
            "[working.answer]",
            r#"is = "rate""#,
            r#"unit = "t/day""#,
        ],
        mend: "ask for what stands above the line in the answer's unit, or leave asks out",
    }
    BAD_FORMULA {
        code: "bad-formula",
        severity: Error,
        says: "a formula that cannot be read",
        why: "A formula that cannot be read cannot be worked out, so the card would have no answer.",
        example: &[r#"is = "pi * bore^2 / / 4""#],
        mend: "write names, numbers with their units, + - * / ^, brackets and the functions of the manual",
    }
    BAD_NAME {
        code: "bad-name",
        severity: Error,
        says: "a name that formulas cannot use",
        why: "A formula would read `mean-speed` as `mean` minus `speed`.",
        example: &[
            "[working.givens]",
            r#"mean-speed = { from = "600 rpm", to = "900 rpm", step = "30 rpm" }"#,
        ],
        mend: "use letters, digits and _, beginning with a letter",
    }
    BAD_RANGE {
        code: "bad-range",
        severity: Error,
        says: "a given whose from, to and step make no range",
        why: "The figures are drawn from `from` up to `to`, one `step` after another. So `to` is not below `from`, and \
            the step is above zero.",
        example: &[
            "[working.givens]",
            r#"bore = { from = "400 mm", to = "280 mm", step = "10 mm" }"#,
        ],
        mend: "let from be at or below to, and step above zero, all of one kind",
    }
    CHANGING_SIGN {
        code: "changing-sign",
        severity: Warning,
        says: "an answer that is zero or below for some figures and above zero for others",
        why: "A power or a volume below zero is nonsense, and a tolerance in per cent of zero leaves no room at all.",
        example: &["[working.answer]", r#"is = "gain - loss""#],
        mend: "change the ranges so that the answer keeps its sign, or leave it if it is so in the plant",
    }
    COLD_ANSWER {
        code: "cold-answer",
        severity: Warning,
        says: "an answer in degC that lies far below any temperature of the trade",
        why: "A product or a quotient that comes to a temperature counts from absolute zero: a rise of 12 K would be \
            shown as -261 degC.",
        example: &["[working.answer]", r#"is = "heat / (flow * capacity)""#, r#"unit = "degC""#],
        mend: "ask for a difference of temperatures in K",
    }
    DIFFERENCE_IN_DEGC {
        code: "difference-in-degc",
        severity: Warning,
        says: "a difference of temperatures given in degC",
        why: "In a product a temperature in degC counts from absolute zero, 273.15 K more. A difference of \
            temperatures does not.",
        example: &[
            "[working.givens]",
            r#"rise = { from = "8 degC", to = "14 degC", step = "1 K" }"#,
        ],
        mend: "give it in K",
    }
    DIVIDES_BY_ZERO {
        code: "divides-by-zero",
        severity: Error,
        says: "givens that divide by zero somewhere",
        why: "Such figures are drawn sooner or later, and then the card has no answer.",
        example: &[
            "[working.givens]",
            r#"t_in = { from = "20 degC", to = "40 degC", step = "1 K" }"#,
            r#"t_out = { from = "30 degC", to = "60 degC", step = "1 K" }"#,
            "[working.answer]",
            r#"is = "heat / (capacity * (t_out - t_in))""#,
        ],
        mend: "change the ranges so that the divisor cannot be zero",
    }
    DUPLICATE_NAME {
        code: "duplicate-name",
        severity: Error,
        says: "two givens or lines of a working with the same name",
        why: "A formula could not tell which of the two is meant.",
        example: &[
            "[[working.line]]",
            r#"name = "bore"   # and a given is called bore too"#,
            r#"is = "2 * radius""#,
        ],
        mend: "give one of them another name",
    }
    FORMULA_UNITS {
        code: "formula-units",
        severity: Error,
        says: "a formula whose units do not fit one another",
        why: "A pressure cannot be added to a length, and a logarithm is of a pure number. The result would mean \
            nothing.",
        example: &["[[working.line]]", r#"is = "pressure + depth""#],
        mend: "see which figure is missing on one side",
    }
    HIDING_NAME {
        code: "hiding-name",
        severity: Warning,
        says: "a name of a working that is also a unit or a function",
        why: "In the card's formulas the name is meant, and `N / 2` is no longer half a newton. A reader may take one \
            for the other.",
        example: &[
            "[working.givens]",
            r#"N = { from = "600 rpm", to = "900 rpm", step = "30 rpm" }"#,
        ],
        mend: "use a name in words, such as speed",
    }
    LIKE_SLIPS {
        code: "like-slips",
        severity: Warning,
        says: "two slips of a working that cannot be told apart",
        why: "Whatever figures are drawn, the two slips come to the same figure. So only the first is ever told to a \
            learner.",
        example: &[
            "[[working.slip]]",
            r#"is = "2 * power""#,
            "[[working.slip]]",
            r#"is = "power * 4 / 2""#,
        ],
        mend: "take one of them out, or say both in one tell",
    }
    LINE_BELOW {
        code: "line-below",
        severity: Error,
        says: "a line of a working that uses a line not above it",
        why: "The learner reads the method from top to bottom, as it would be written on paper.",
        example: &[
            "[[working.line]]",
            r#"name = "power""#,
            r#"is = "work * speed""#,
            "[[working.line]]",
            r#"name = "work""#,
            r#"is = "pressure * volume""#,
        ],
        mend: "move the line that it uses above it",
    }
    LOST_SLIP {
        code: "lost-slip",
        severity: Warning,
        says: "a slip that has no value for any figures",
        why: "A slip that comes to no figure is never recognised in a learner's answer.",
        example: &["[[working.slip]]", r#"is = "power / (bore - bore)""#],
        mend: "see whether the formula is as meant, or take the slip out",
    }
    NO_VALUE {
        code: "no-value",
        severity: Error,
        says: "a formula that has no value for figures that the givens can take",
        why: "Such figures are drawn sooner or later, and then the card has no answer.",
        example: &["[[working.line]]", r#"is = "sqrt(apparent^2 - active^2)""#],
        mend: "change the ranges, or see whether the formula is as meant",
    }
    NO_WITHIN {
        code: "no-within",
        severity: Advice,
        says: "an answer that must be exact and whose figures go on and on",
        why: "Without a tolerance an answer must agree to one part in a million, and nobody writes down so many \
            figures.",
        example: &["[working.answer]", r#"is = "pi * bore^2 / 4""#, r#"unit = "m2""#],
        mend: "add within = \"1 %\" to the answer",
    }
    SLIP_IS_RIGHT {
        code: "slip-is-right",
        severity: Warning,
        says: "a slip within tolerance of the right answer",
        why: "A learner who makes this slip is told that the answer is right.",
        example: &[
            "[working.answer]",
            r#"is = "power""#,
            r#"within = "5 %""#,
            "[[working.slip]]",
            r#"is = "1.04 * power""#,
        ],
        mend: "change the ranges so that the two differ, or make the tolerance smaller",
    }
    UNEVEN_STEP {
        code: "uneven-step",
        severity: Warning,
        says: "a step that does not divide the range of its given",
        why: "Figures are drawn step by step from `from`, and the last step does not reach `to`. So the greatest \
            figure is never drawn.",
        example: &[
            "[working.givens]",
            r#"bore = { from = "280 mm", to = "400 mm", step = "50 mm" }"#,
        ],
        mend: "let the step lead from from to to in whole steps",
    }
    UNKNOWN_NAME {
        code: "unknown-name",
        severity: Error,
        says: "a name that is no given and no line of the working",
        why: "A formula works with the givens and the lines above it, and the question names givens in braces. This \
            name is none of them.",
        example: &["[[working]]", r#"ask = "Find the area of a piston of {boer}.""#],
        mend: "write it as the given or the line has it, or add it there",
    }
    UNUSED_GIVEN {
        code: "unused-given",
        severity: Warning,
        says: "a given that no formula of its working uses",
        why: "The learner looks for the place of this figure in the calculation, and there is none. Often another name \
            was meant.",
        example: &[
            "[working.givens]",
            r#"stroke = { from = "350 mm", to = "480 mm", step = "10 mm" }"#,
        ],
        mend: "use it in a line or in the answer, or take it out",
    }
    UNUSED_LINE {
        code: "unused-line",
        severity: Advice,
        says: "a line of a working that nothing uses",
        why: "The method is to lead to the answer. A line that leads nowhere is seldom meant.",
        example: &["[[working.line]]", r#"name = "area""#, r#"is = "pi * bore^2 / 4""#],
        mend: "use it in a line below or in the answer, or take it out",
    }
}

pub(crate) fn answer_unit(site: Site, error: &QuantityError) -> Found {
    ANSWER_UNIT.at(site, error.message.clone(), error.mend.clone())
}

pub(crate) fn bad_asks(site: Site, asks: &str, answer: &str) -> Found {
    match answer.split_once('/') {
        Some((above, _)) => {
            let above = above.trim();
            BAD_ASKS.at(
                site,
                format!("`asks` names `{asks}`, but the answer's unit `{answer}` is a rate of `{above}`"),
                format!("write asks = \"{above}\", or another unit of that kind, or leave `asks` out"),
            )
        }
        None => {
            let what = if answer.is_empty() { "a plain number" } else { answer };
            BAD_ASKS.at(
                site,
                format!("`asks` is for an answer that is a rate, and this one is in {what}"),
                format!("leave `asks` out, or give the answer as a rate, such as unit = \"{asks}/day\""),
            )
        }
    }
}

pub(crate) fn bad_formula(site: Site, error: &ExpressionError) -> Found {
    BAD_FORMULA.at(site, error.message.clone(), error.mend.clone())
}

pub(crate) fn bad_name(site: Site, name: &str) -> Found {
    let shown = short(name, 60);
    let word = |c: char| if c.is_alphanumeric() { c } else { '_' };
    let better: String = shown.chars().map(word).collect();
    let mend = match expression::name(&better).filter(|better| *better != shown) {
        Some(better) => format!("write `{better}`"),
        None => "use letters, digits and `_`, beginning with a letter, at most 40, and not `pi`".to_owned(),
    };
    BAD_NAME.at(site, format!("formulas cannot use the name `{shown}`"), mend)
}

/// `to` below `from`.
pub(crate) fn bad_range_upside_down(site: Site) -> Found {
    BAD_RANGE.at(site, "`to` is below `from`", "change the two over")
}

/// A step of zero or less.
pub(crate) fn bad_range_no_step(site: Site) -> Found {
    BAD_RANGE.at(site, "the step is not above zero", "give the distance from one figure to the next")
}

/// Another kind of quantity than `from`.
pub(crate) fn bad_range_other_kind(site: Site, key: &str, this: &str, from: &str) -> Found {
    BAD_RANGE.at(site, format!("`{key}` is {this}, but `from` is {from}"), "write all three in units of one kind")
}

/// A step so small that it cannot be counted.
pub(crate) fn bad_range_too_many_steps(site: Site) -> Found {
    BAD_RANGE.at(
        site,
        "the range has more than a million steps",
        "use a greater step; the figures are to be round ones",
    )
}

/// `answer` and `figures` as people read them.
pub(crate) fn changing_sign(site: Site, answer: &str, figures: &str) -> Found {
    CHANGING_SIGN.at(site, format!("the answer is {answer} for {figures}"), CHANGING_SIGN.mend)
}

/// `answer` as people read it.
pub(crate) fn cold_answer(site: Site, answer: &str) -> Found {
    COLD_ANSWER.at(site, format!("the answer is {answer} for some figures"), COLD_ANSWER.mend)
}

pub(crate) fn difference_in_degc(site: Site, name: &str) -> Found {
    DIFFERENCE_IN_DEGC.at(
        site,
        format!("`{name}` seems to be a difference of temperatures, and degC is a temperature"),
        DIFFERENCE_IN_DEGC.mend,
    )
}

/// `figures` says for which figures, such as `bore 280 mm`.
pub(crate) fn divides_by_zero(site: Site, figures: &str) -> Found {
    DIVIDES_BY_ZERO.at(site, format!("this divides by zero for {figures}"), DIVIDES_BY_ZERO.mend)
}

pub(crate) fn duplicate_name(site: Site, name: &str, other: &str) -> Found {
    DUPLICATE_NAME.at(site, format!("there is {other} `{name}` already"), "give one of the two another name")
}

pub(crate) fn formula_units(site: Site, error: &ExpressionError) -> Found {
    FORMULA_UNITS.at(site, error.message.clone(), error.mend.clone())
}

pub(crate) fn hiding_name(site: Site, name: &str, what: &str) -> Found {
    HIDING_NAME.at(site, format!("`{name}` is also {what}"), "use a name in words, such as `speed`")
}

/// `other` is the number of the slip above, from 1.
pub(crate) fn like_slips(site: Site, other: usize) -> Found {
    LIKE_SLIPS.at(site, format!("this slip comes to the same as slip {other} for all figures tried"), LIKE_SLIPS.mend)
}

pub(crate) fn line_below(site: Site, name: &str, is_own: bool) -> Found {
    if is_own {
        let mend = "use givens and lines above it, or give the line another name";
        return LINE_BELOW.at(site, format!("the line `{name}` uses itself"), mend);
    }
    LINE_BELOW.at(
        site,
        format!("`{name}` stands below; a line may use only lines above it"),
        format!("move `{name}` above it"),
    )
}

pub(crate) fn lost_slip(site: Site) -> Found {
    LOST_SLIP.at(site, "this slip has no value for any of the figures tried", LOST_SLIP.mend)
}

/// `figures` says for which figures, such as `bore 280 mm`.
pub(crate) fn no_value(site: Site, error: &ExpressionError, figures: &str) -> Found {
    NO_VALUE.at(site, format!("{} for {figures}", error.message), NO_VALUE.mend)
}

pub(crate) fn no_within(site: Site) -> Found {
    NO_WITHIN.at(site, "the answer has no tolerance, and its figures go on and on", NO_WITHIN.mend)
}

/// `share` is that of the draws in which it is so.
pub(crate) fn slip_is_right(site: Site, share: f64) -> Found {
    let often = match share {
        all if all >= 1.0 => "for all figures".to_owned(),
        share => format!("for {:.0} % of the figures tried", (share * 100.0).max(1.0)),
    };
    SLIP_IS_RIGHT.at(site, format!("this slip is within tolerance of the right answer {often}"), SLIP_IS_RIGHT.mend)
}

/// `last` is the greatest figure that is drawn.
pub(crate) fn uneven_step(site: Site, last: &str) -> Found {
    UNEVEN_STEP.at(site, format!("the steps end at {last} and do not reach `to`"), UNEVEN_STEP.mend)
}

/// In a formula.
pub(crate) fn unknown_name_in_formula(site: Site, error: &ExpressionError) -> Found {
    UNKNOWN_NAME.at(site, error.message.clone(), error.mend.clone())
}

/// In braces, in the question.
pub(crate) fn unknown_name_in_ask<'a>(site: Site, name: &str, givens: impl Iterator<Item = &'a str> + Clone) -> Found {
    let shown = short(name, 40);
    let mend = format!("{}; for a brace as it stands write it twice", suggest::mend(name, givens));
    UNKNOWN_NAME.at(site, format!("the question names `{shown}`, which is no given"), mend)
}

/// A brace that is not closed.
pub(crate) fn unknown_name_open_brace(site: Site) -> Found {
    UNKNOWN_NAME.at(
        site,
        "a brace opens here and is not closed",
        "close it behind the name, or write it twice for a brace",
    )
}

pub(crate) fn unused_given(site: Site, name: &str) -> Found {
    UNUSED_GIVEN.at(site, format!("neither the method nor the answer uses `{name}`"), UNUSED_GIVEN.mend)
}

pub(crate) fn unused_line(site: Site, name: &str) -> Found {
    UNUSED_LINE.at(site, format!("no line below and not the answer uses `{name}`"), UNUSED_LINE.mend)
}
