//! Checks: what is wrong with a sequence: its facts, steps, reflexes and orders.

use super::table::short;
use crate::deck::check::{Found, Site};
use crate::deck::suggest;
use crate::domain::plant::Severity;

checks! {
    DUPLICATE_STEP {
        code: "duplicate-step",
        severity: Error,
        says: "two steps of a sequence have the same key",
        why: "An answer names steps by their keys, so two steps cannot share one.",
        example: &[
            "[[sequence.step]]",
            r#"key = "charge""#,
            "[[sequence.step]]",
            r#"key = "charge""#,
        ],
        mend: "give one of them another key",
    }
    GOAL_AT_START {
        code: "goal-at-start",
        severity: Warning,
        says: "a sequence whose goal holds at the start",
        why: "The goal is reached before anything is done, so an empty list would be a right answer.",
        example: &[
            "[[sequence]]",
            r#"start = ["air-in-receiver"]"#,
            r#"goal = ["air-in-receiver"]"#,
        ],
        mend: "take the fact out of `start`, or ask for more in `goal`",
    }
    MISSING_TELL {
        code: "missing-tell",
        severity: Warning,
        says: "an unmet need, a trap or a reflex that has no `tell`",
        why: "A learner who makes this mistake should read what would have happened in the plant.",
        example: &[
            "[[sequence.step]]",
            r#"needs = ["cooled"]   # and no [[sequence.step.fault]] with without = "cooled""#,
        ],
        mend: "say in a `tell` what happens",
    }
    NEEDED_TRAP {
        code: "needed-trap",
        severity: Error,
        says: "a trap without which the goal cannot be reached",
        why: "A trap is a step that is never part of a right answer, but here the goal cannot be reached without it.",
        example: &[
            "[[sequence.step]]",
            r#"key = "backfeed""#,
            "trap = true",
            r#"gives = ["board-live"]   # and no other step gives it"#,
        ],
        mend: "take `trap = true` away, or let another step give what it gives",
    }
    NEEDLESS_STEP {
        code: "needless-step",
        severity: Warning,
        says: "a step that no working order needs",
        why: "The goal is reached without the step. So a learner who leaves it out has left nothing out.",
        example: &[
            "[[sequence.step]]",
            r#"key = "log""#,
            r#"gives = ["logged"]   # and nothing needs it"#,
        ],
        mend: "let the goal or another step need what it gives, or take it out",
    }
    NO_FULL_ORDER {
        code: "no-full-order",
        severity: Advice,
        says: "a sequence of which no order uses every step",
        why: "A wrong order is compared with a right order of all the steps. Here there is none, so nobody can say how \
            far off the learner is.",
        example: &[
            "[[sequence.step]]",
            r#"gives = ["on-mains"]"#,
            r#"needs = ["!on-emergency"]"#,
            "[[sequence.step]]",
            r#"gives = ["on-emergency"]"#,
            r#"needs = ["!on-mains"]"#,
        ],
        mend: "make two sequences of it, where that helps the learner",
    }
    NOT_STRICT {
        code: "not-strict",
        severity: Advice,
        says: "a sequence that says `strict` and that has more than one working order",
        why: "`strict` says that one order alone is right. Here several orders work, and every one of them is marked \
            right.",
        example: &["[[sequence]]   # two of its steps may change places", "strict = true"],
        mend: "take `strict` away, or add the needs that make the one order",
    }
    NOTHING_GIVES {
        code: "nothing-gives",
        severity: Error,
        says: "a fact that is waited for and that nothing gives",
        why: "A fact that no step and no reflex brings about never holds. What waits for it can never happen.",
        example: &["[[sequence]]", r#"goal = ["air-in-receiver"]   # and no step gives it"#],
        mend: "add the fact to the `gives` of the step or reflex that brings it about, or to `start`",
    }
    NOTHING_TAKES {
        code: "nothing-takes",
        severity: Warning,
        says: "a fact that must not hold, holds from the start, and nothing takes it",
        why: "The fact holds from the start and nothing ends it. What waits for its end can never happen.",
        example: &[
            "[[sequence]]",
            r#"start = ["turning-gear-in"]"#,
            "[[sequence.step]]",
            r#"needs = ["!turning-gear-in"]   # and no step takes it"#,
        ],
        mend: "add the fact to the `takes` of the step or reflex that ends it, or take it out of `start`",
    }
    RESTLESS_REFLEXES {
        code: "restless-reflexes",
        severity: Error,
        says: "reflexes that never come to rest",
        why: "Each reflex undoes what the other does, so the plant would never come to rest.",
        example: &[
            "[[sequence.reflex]]",
            r#"when = ["hot"]"#,
            r#"takes = ["hot"]"#,
            "[[sequence.reflex]]",
            r#"when = ["!hot"]"#,
            r#"gives = ["hot"]"#,
        ],
        mend: "let one of them wait for something that the other does not undo",
    }
    SINGLE_ORDER {
        code: "single-order",
        severity: Warning,
        says: "only one order works, and `strict` is not said",
        why: "Where only one order works, another order that a good engineer would use may be marked wrong.",
        example: &[
            "[[sequence]]",
            r#"id = "crankcase-alarm"   # each step needs the one before it"#,
        ],
        mend: "take out needs that are habits only, or say strict = true",
    }
    STRAY_FAULT {
        code: "stray-fault",
        severity: Error,
        says: "a fault for a need that its step does not have",
        why: "The step does not need this fact, so the fault would never be told.",
        example: &[
            "[[sequence.step]]",
            r#"needs = ["cooled"]"#,
            "[[sequence.step.fault]]",
            r#"without = "oiled""#,
        ],
        mend: "write the need as the step's `needs` has it, with its `!`, or add it there",
    }
    UNKNOWN_FACT {
        code: "unknown-fact",
        severity: Error,
        says: "a sequence names a fact that it does not declare",
        why: "Every fact is declared with a name for people, so that a slip of the pen is not taken for another fact.",
        example: &["[[sequence.step]]", r#"needs = ["oil-presure"]"#],
        mend: "write the fact as [sequence.fact] has it, or add it there with its name",
    }
    UNKNOWN_SEVERITY {
        code: "unknown-severity",
        severity: Error,
        says: "a severity that there is not",
        why: "The severity says how bad the wrong step is, and the outcome of the answer follows from it.",
        example: &["[[sequence.step.fault]]", r#"severity = "fatal""#],
        mend: "write no-effect, trip, damage or injury",
    }
    UNREACHABLE_GOAL {
        code: "unreachable-goal",
        severity: Error,
        says: "no order of the steps reaches the goal",
        why: "If no order of the steps reaches the goal, the card has no right answer.",
        example: &[
            "[[sequence]]",
            r#"goal = ["engine-running"]   # and its step needs what comes only after it"#,
        ],
        mend: "see which need is never met, and give it, or take it out",
    }
    UNUSED_FACT {
        code: "unused-fact",
        severity: Warning,
        says: "a fact that a sequence declares and never uses",
        why: "No learner ever sees it. Often the step that should name it has a slip of the pen.",
        example: &[
            "[sequence.fact]",
            r#"oil-warm = "Lubricating oil warm"   # and no step names it"#,
        ],
        mend: "use it or take it out",
    }
}

pub(crate) fn duplicate_step(site: Site, key: &str) -> Found {
    DUPLICATE_STEP.at(site, format!("there is another step `{key}` above"), "give one of the two another key")
}

pub(crate) fn goal_at_start(site: Site) -> Found {
    GOAL_AT_START.at(site, "the goal holds before anything is done", GOAL_AT_START.mend)
}

/// A need that can be unmet and that no fault is for.
pub(crate) fn missing_tell_need(site: Site, step: &str, need: &str) -> Found {
    MISSING_TELL.at(
        site,
        format!("nothing tells what happens when step `{step}` is done without `{need}`"),
        format!("add [[sequence.step.fault]] with without = \"{need}\", its severity and a tell"),
    )
}

/// A fault, a trap or a reflex that does not say what happens.
pub(crate) fn missing_tell(site: Site, what: &str) -> Found {
    MISSING_TELL.at(site, format!("{what} has no `tell`"), "add tell = \"what happens, in one sentence\"")
}

pub(crate) fn needed_trap(site: Site, step: &str) -> Found {
    NEEDED_TRAP.at(
        site,
        format!("step `{step}` is a trap, but the goal cannot be reached without it"),
        NEEDED_TRAP.mend,
    )
}

pub(crate) fn needless_step(site: Site, step: &str) -> Found {
    NEEDLESS_STEP.at(site, format!("no working order needs step `{step}`"), NEEDLESS_STEP.mend)
}

/// A step that can never be done. `need` is what is never met, as written.
pub(crate) fn needless_step_never_done(site: Site, step: &str, need: Option<&str>) -> Found {
    let why = need.map_or_else(|| "its needs never hold together".to_owned(), |need| format!("`{need}` never holds"));
    NEEDLESS_STEP.at(
        site,
        format!("no order can do step `{step}`: {why}"),
        "let another step give what it needs, or take it out",
    )
}

pub(crate) fn no_full_order(site: Site) -> Found {
    NO_FULL_ORDER.at(
        site,
        "no working order uses every step, so a wrong order cannot be told how far it is from a right one",
        "make two sequences of it, or mark as `trap` what is never right",
    )
}

pub(crate) fn not_strict(site: Site, orders: &str) -> Found {
    NOT_STRICT.at(
        site,
        format!("`strict` is said, but {orders} orders work"),
        "take `strict` away, or add the needs that leave one order only",
    )
}

/// `perhaps` is a step that was probably meant to give it.
pub(crate) fn nothing_gives(site: Site, fact: &str, perhaps: Option<&str>) -> Found {
    let mend = match perhaps {
        Some(step) => format!("step `{step}` was perhaps meant to: add gives = [\"{fact}\"]"),
        None => "add it to the `gives` of the step that brings it about, or to `start`".to_owned(),
    };
    NOTHING_GIVES.at(site, format!("nothing gives `{fact}`"), mend)
}

pub(crate) fn nothing_takes(site: Site, fact: &str) -> Found {
    NOTHING_TAKES.at(
        site,
        format!("`{fact}` holds from the start and nothing takes it"),
        "add it to the `takes` of the step that ends it, or take it out of `start`",
    )
}

/// `others` are the numbers of the other reflexes that take part, from 1.
pub(crate) fn restless_reflexes(site: Site, others: &[usize]) -> Found {
    let others: Vec<String> = others.iter().map(|number| format!("number {number}")).collect();
    let with = if others.is_empty() { String::new() } else { format!(" with reflex {}", others.join(" and ")) };
    RESTLESS_REFLEXES.at(
        site,
        format!("this reflex goes on for ever{with}"),
        "let one of them wait for something that another does not undo",
    )
}

pub(crate) fn single_order(site: Site) -> Found {
    SINGLE_ORDER.at(
        site,
        "only one order works",
        "take out needs that are only habit, or write strict = true where that order alone is right",
    )
}

pub(crate) fn stray_fault<'a>(
    site: Site,
    without: &str,
    step: &str,
    needs: impl Iterator<Item = &'a str> + Clone,
) -> Found {
    let mend = match suggest::nearest(without, needs) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("add \"{without}\" to the step's `needs`, or take the fault out"),
    };
    STRAY_FAULT.at(site, format!("step `{step}` does not need `{without}`"), mend)
}

pub(crate) fn unknown_fact<'a>(site: Site, key: &str, keys: impl Iterator<Item = &'a str> + Clone) -> Found {
    let shown = short(key, 60);
    let mend = match suggest::nearest(key, keys) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("add {shown} = \"its name for people\" to [sequence.fact]"),
    };
    UNKNOWN_FACT.at(site, format!("the sequence has no fact `{shown}`"), mend)
}

/// `!fact` where only a fact may stand.
pub(crate) fn unknown_fact_negated(site: Site, key: &str, list: &str) -> Found {
    let shown = short(key, 60);
    let bare = shown.trim_start_matches('!');
    let mend = match list {
        "gives" => format!("put `{bare}` into `takes`: what is taken no longer holds"),
        "takes" => format!("put `{bare}` into `gives`, or take the `!` away"),
        _ => format!("take `{shown}` out: what is not in `start` does not hold"),
    };
    UNKNOWN_FACT.at(site, format!("`{shown}` cannot stand in `{list}`; `!` is for needs, the goal and `when`"), mend)
}

pub(crate) fn unknown_severity(site: Site, word: &str) -> Found {
    let shown = short(word, 60);
    let words = Severity::ALL.map(Severity::word);
    UNKNOWN_SEVERITY.at(site, format!("there is no severity `{shown}`"), suggest::mend(word, words))
}

/// `why` says what stands in the way.
pub(crate) fn unreachable_goal(site: Site, why: &str, mend: &str) -> Found {
    UNREACHABLE_GOAL.at(site, format!("no order of the steps reaches the goal: {why}"), mend)
}

pub(crate) fn unused_fact(site: Site, fact: &str) -> Found {
    UNUSED_FACT.at(site, format!("nothing uses the fact `{fact}`"), "use it in a step, or take it out")
}
