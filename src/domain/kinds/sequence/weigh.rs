//! A marked run as the points that it rests on: needed steps, what was done too early, traps, and the goal.

use super::told::Told;
use crate::domain::kinds::kind::Weighed;
use crate::domain::plant::{Procedure, Severity, prove};

/// The points of a marked list of steps.
pub(super) fn weigh(procedure: &Procedure, told: &Told) -> Vec<Weighed> {
    let Told { reaches_goal, breaks, traps, left_out, .. } = told;
    let say = |key: &str| procedure.step_of(key).map_or("", |step| procedure.steps[step].say.as_str());
    let needed = prove(procedure).map(|proof| proof.needed).unwrap_or_default();
    let wrong = |step: usize| {
        let key = &procedure.steps[step].key;
        left_out.contains(key) || breaks.iter().any(|b| b.step == *key)
    };
    let needed = needed.into_iter().map(|step| Weighed::there(&procedure.steps[step].say, !wrong(step), false));
    let mut marks: Vec<Weighed> = needed.collect();
    for bad in breaks.iter().filter(|b| b.severity.is_grave()) {
        marks.push(Weighed::there(&too_early(say(&bad.step), &bad.tell), false, true));
    }
    for key in traps {
        let severity = procedure
            .step_of(key)
            .and_then(|s| procedure.steps[s].trap.as_ref())
            .map_or(Severity::NoEffect, |t| t.severity);
        marks.push(Weighed::there(&never(say(key)), false, severity.is_grave()));
    }
    marks.push(Weighed::there("The goal is reached", *reaches_goal, false));
    marks
}

/// The point of a step that was done too early, with what that does.
pub(super) fn too_early(step: &str, tell: &str) -> String {
    format!("Not too early: {}. {tell}", step.trim_end_matches('.'))
}

/// The point of a step that belongs to no right order.
pub(super) fn never(step: &str) -> String {
    format!("Never: {step}")
}
