//! A sequence on the sheet: its steps ashore, and the learner's list as it ran.

use crate::app::session::{Marked, Sheet};
use crate::domain::answer::Given;
use crate::domain::plant::{Became, Feedback, Procedure, Stir, begin, prove, run};
use crate::present::watch::{ResultView, RunLine, Stage, StepView};
use crate::present::{Tone, words};

/// The steps in the order in which they lie ashore, and what holds at the start.
pub fn asked(procedure: &Procedure, sheet: &Sheet) -> Stage {
    let step = |position: &usize| {
        let step = procedure.steps.get(position.checked_sub(1)?)?;
        Some(StepView { position: *position, key: step.key.clone(), text: step.say.clone() })
    };
    Stage::SequenceAsked {
        steps: sheet.ashore.iter().filter_map(step).collect(),
        holds: begin(procedure).0.facts.iter().map(|fact| procedure.name(fact).to_owned()).collect(),
    }
}

/// The learner's list as it ran, beside an order that works.
pub fn marked(procedure: &Procedure, marked: &Marked, result: ResultView) -> Stage {
    let given: &[String] = match &marked.given {
        Given::Steps(steps) => steps,
        _ => &[],
    };
    let list: Vec<usize> = given.iter().filter_map(|key| procedure.step_of(key)).collect();
    let ran = run(procedure, &list);
    let missing = procedure.goal.iter().filter(|need| !need.is_met(&ran.facts_after()));
    Stage::SequenceMarked {
        at_start: tells(procedure, &ran.begun),
        lines: ran.lines.iter().enumerate().map(|(at, line)| run_line(procedure, at + 1, line)).collect(),
        goal_missing: missing
            .map(|need| {
                let name = procedure.name(need.fact);
                if need.holds { name.to_owned() } else { format!("no longer: {name}") }
            })
            .collect(),
        reason: marked.marking.reason.clone(),
        right: right_order(procedure),
        result,
    }
}

/// The steps of an order that works, in words.
pub fn right_order(procedure: &Procedure) -> Vec<String> {
    let one = prove(procedure).ok().and_then(|proof| proof.one).unwrap_or_default();
    one.into_iter().map(|step| procedure.steps[step].say.clone()).collect()
}

/// The traps, in words.
pub fn traps(procedure: &Procedure) -> Vec<String> {
    procedure.traps().map(|step| procedure.steps[step].say.clone()).collect()
}

fn tells(procedure: &Procedure, stir: &Stir) -> Vec<String> {
    stir.firings.iter().filter_map(|firing| procedure.reflexes[firing.reflex].tell.clone()).collect()
}

fn run_line(procedure: &Procedure, number: usize, line: &Feedback) -> RunLine {
    let step = &procedure.steps[line.step];
    let (tone, word, tell) = match &line.became {
        Became::Done => (Tone::Good, "done", None),
        Became::Refused => (Tone::Weak, "passed over", None),
        Became::Broken(broken) => {
            (if broken.severity.is_grave() { Tone::Bad } else { Tone::Weak }, "broke", Some(broken.tell.clone()))
        }
        Became::Trapped(severity) => (
            if severity.is_grave() { Tone::Bad } else { Tone::Weak },
            "never right",
            step.trap.as_ref().and_then(|trap| trap.tell.clone()),
        ),
    };
    let severity = match &line.became {
        Became::Broken(broken) => Some(words::severity(broken.severity)),
        Became::Trapped(severity) => Some(words::severity(*severity)),
        _ => None,
    };
    RunLine { number, text: step.say.clone(), tone, word, severity, tell, events: tells(procedure, &line.stir) }
}
