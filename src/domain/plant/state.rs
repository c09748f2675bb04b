//! The plant as it stands, and what one step does to it.

use super::facts::Facts;
use super::procedure::{Need, Procedure, Severity};
use super::settle::{MOST_PASSES, settle};

/// The plant as it stands: small, and copied freely.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct State {
    /// What holds.
    pub facts: Facts,
    /// The steps done so far, one bit each.
    pub done: u64,
}

/// What became of a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Feedback {
    /// Which step.
    pub step: usize,
    /// Done, or why not.
    pub became: Became,
    /// Facts that the step itself made true.
    pub gained: Vec<usize>,
    /// Facts that the step itself made false.
    pub lost: Vec<usize>,
    /// What the plant then did by itself.
    pub stir: Stir,
}

/// Done, or why not.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Became {
    /// The step was done.
    Done,
    /// Needs were unmet; nothing was changed.
    Broken(Break),
    /// The step is a trap; nothing was changed.
    Trapped(Severity),
    /// The step had been done before, or there is no such step; nothing was changed.
    Refused,
}

/// A step that was tried with needs unmet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Break {
    /// Which step.
    pub step: usize,
    /// All its unmet needs, in the deck's order.
    pub without: Vec<Need>,
    /// Of the first matching fault, or no effect.
    pub severity: Severity,
    /// Of the first matching fault, or a plain sentence.
    pub tell: String,
}

/// What the plant did by itself, from one moment of rest to the next.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Stir {
    /// Reflexes in the order they fired.
    pub firings: Vec<Firing>,
    /// The reflexes that would go on for ever, in the order of the file; none where the plant came to rest.
    pub restless: Vec<usize>,
}

/// One firing of a reflex.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Firing {
    /// Which reflex.
    pub reflex: usize,
    /// Facts that it made true.
    pub gained: Vec<usize>,
    /// Facts that it made false.
    pub lost: Vec<usize>,
}

/// The plant at the start, with the reflexes that fire there.
pub fn begin(procedure: &Procedure) -> (State, Stir) {
    let mut state = State { facts: procedure.start, done: 0 };
    let stir = rest(procedure, &mut state.facts);
    (state, stir)
}

/// Does one step. A step with unmet needs, a trap, and a step that has been done before change nothing.
pub fn apply(procedure: &Procedure, state: &State, step: usize) -> (State, Feedback) {
    let passed_over = |became| Feedback { step, became, gained: vec![], lost: vec![], stir: Stir::default() };
    let Some(definition) = procedure.steps.get(step).filter(|_| step < 64 && state.done >> step & 1 == 0) else {
        return (*state, passed_over(Became::Refused));
    };
    if let Some(trap) = &definition.trap {
        return (*state, passed_over(Became::Trapped(trap.severity)));
    }
    let without: Vec<Need> = definition.needs.iter().copied().filter(|need| !need.is_met(&state.facts)).collect();
    if !without.is_empty() {
        return (*state, passed_over(Became::Broken(broken(procedure, step, without))));
    }
    let mut after = State { done: state.done | 1 << step, ..*state };
    change(&mut after.facts, &definition.takes, &definition.gives);
    let (gained, lost) = between(&state.facts, &after.facts);
    let stir = rest(procedure, &mut after.facts);
    (after, Feedback { step, became: Became::Done, gained, lost, stir })
}

fn change(facts: &mut Facts, takes: &[usize], gives: &[usize]) {
    takes.iter().for_each(|fact| facts.set(*fact, false));
    gives.iter().for_each(|fact| facts.set(*fact, true));
}

/// Facts gained and lost.
fn between(before: &Facts, after: &Facts) -> (Vec<usize>, Vec<usize>) {
    ((*after & !*before).iter().collect(), (*before & !*after).iter().collect())
}

/// Lets the reflexes fire, pass after pass in the order of the file, until a pass fires none.
fn rest(procedure: &Procedure, facts: &mut Facts) -> Stir {
    let mut firings = Vec::new();
    match settle(*facts, |facts| pass(procedure, facts, &mut firings)) {
        Ok(settled) => {
            *facts = settled;
            Stir { firings, restless: Vec::new() }
        }
        Err(never) => {
            *facts = never.again;
            Stir { firings, restless: restless(procedure, never.again) }
        }
    }
}

/// The reflexes that fire between a state and its next coming.
fn restless(procedure: &Procedure, again: Facts) -> Vec<usize> {
    let (mut facts, mut firings) = (again, Vec::new());
    for _ in 0..MOST_PASSES {
        if !pass(procedure, &mut facts, &mut firings) || facts == again {
            break;
        }
    }
    let mut reflexes: Vec<usize> = firings.into_iter().map(|firing| firing.reflex).collect();
    reflexes.sort_unstable();
    reflexes.dedup();
    reflexes
}

fn pass(procedure: &Procedure, facts: &mut Facts, firings: &mut Vec<Firing>) -> bool {
    let mut has_fired = false;
    for (reflex, definition) in procedure.reflexes.iter().enumerate() {
        if !definition.when.iter().all(|need| need.is_met(facts)) {
            continue;
        }
        let before = *facts;
        change(facts, &definition.takes, &definition.gives);
        if *facts != before {
            has_fired = true;
            let (gained, lost) = between(&before, facts);
            firings.push(Firing { reflex, gained, lost });
        }
    }
    has_fired
}

fn broken(procedure: &Procedure, step: usize, without: Vec<Need>) -> Break {
    let fault = procedure.steps[step].faults.iter().find(|fault| without.contains(&fault.without));
    let severity = fault.map_or(Severity::NoEffect, |fault| fault.severity);
    let tell = fault.and_then(|fault| fault.tell.clone()).unwrap_or_else(|| plain(procedure, &without));
    Break { step, without, severity, tell }
}

/// `This cannot be done yet: "Oil pressure" does not hold.`
fn plain(procedure: &Procedure, without: &[Need]) -> String {
    let one = |need: &Need| match need.holds {
        true => format!("“{}” does not hold", procedure.name(need.fact)),
        false => format!("“{}” still holds", procedure.name(need.fact)),
    };
    format!("This cannot be done here: {}.", without.iter().map(one).collect::<Vec<_>>().join(" and "))
}
