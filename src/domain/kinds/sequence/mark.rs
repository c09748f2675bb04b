//! Marks a sequence: the learner's steps are run on the plant, and held against the orders that work.

use std::collections::HashSet;

use super::told::{BreakMark, Told};
use crate::domain::english::in_words;
use crate::domain::kinds::kind::Marked;
use crate::domain::marking::AnswerError;
use crate::domain::outcome::Outcome;
use crate::domain::plant::{Break, Need, Procedure, Proof, Run, distance_of, prove, run};

/// Marks steps given by key, in the order given.
pub(super) fn mark(procedure: &Procedure, given: &[String], in_time: bool) -> Result<Marked<Told>, AnswerError> {
    let list = positions(procedure, given)?;
    let proof = prove(procedure).map_err(|error| AnswerError { message: error.to_string() })?;
    let ran = run(procedure, &list);
    let key = |step: usize| procedure.steps[step].key.clone();
    let distance = distance_of(procedure, &list);
    let left_out: Vec<usize> = proof.needed.iter().copied().filter(|step| !list.contains(step)).collect();
    let outcome = outcome(&proof, &ran, in_time);
    let reason = reason(procedure, &list, &ran, &left_out);
    let break_mark = |broken: &Break| BreakMark {
        step: key(broken.step),
        without: broken.without.iter().map(|need| procedure.written(*need)).collect(),
        severity: broken.severity,
        tell: broken.tell.clone(),
    };
    let told = Told {
        reaches_goal: ran.reaches_goal,
        breaks: ran.breaks().map(break_mark).collect(),
        traps: ran.traps().map(|(step, _)| key(step)).collect(),
        left_out: left_out.into_iter().map(key).collect(),
        out_of_place: distance.map(|distance| distance.out_of_place),
        swaps: distance.map(|distance| distance.swaps),
        events: ran.firings().filter_map(|reflex| procedure.reflexes[reflex].tell.clone()).collect(),
        facts_after: ran.facts_after().iter().map(|fact| procedure.facts[fact].key.clone()).collect(),
    };
    Ok(Marked { outcome, reason, told })
}

fn positions(procedure: &Procedure, given: &[String]) -> Result<Vec<usize>, AnswerError> {
    let mut list = Vec::with_capacity(given.len());
    for key in given {
        let shown: String = key.chars().take(60).collect();
        let Some(step) = procedure.step_of(key) else {
            let keys: Vec<&str> = procedure.steps.iter().map(|step| step.key.as_str()).collect();
            return Err(AnswerError {
                message: format!("there is no step `{shown}`; the steps are `{}`", keys.join("`, `")),
            });
        };
        if list.contains(&step) {
            return Err(AnswerError { message: format!("step `{shown}` is given twice; give each at most once") });
        }
        list.push(step);
    }
    Ok(list)
}

/// The evidence is each needed step done, and the goal; each trap, and each break of a step that is not needed,
/// counts as one more missed.
fn outcome(proof: &Proof, ran: &Run, in_time: bool) -> Outcome {
    let grave = ran.breaks().any(|broken| broken.severity.is_grave()) || ran.traps().any(|trap| trap.1.is_grave());
    if grave {
        return Outcome::Missed;
    }
    let done: HashSet<usize> = ran.done().collect();
    let right = proof.needed.iter().filter(|step| done.contains(step)).count() + usize::from(ran.reaches_goal);
    let beside = ran.traps().count() + ran.breaks().filter(|broken| !proof.needed.contains(&broken.step)).count();
    let outcome = Outcome::from_share(right as f64, (proof.needed.len() + 1 + beside) as f64, in_time);
    if ran.works() { outcome } else { outcome.min(Outcome::Prompted) }
}

/// One sentence about the worst thing in the list: what was missing, what gives it, and where that stands.
fn reason(procedure: &Procedure, list: &[usize], ran: &Run, left_out: &[usize]) -> String {
    let telling = Telling { procedure, list, ran };
    let grave_trap = ran.traps().find(|trap| trap.1.is_grave());
    let grave_break = ran.breaks().find(|broken| broken.severity.is_grave());
    let text = match (grave_trap, grave_break) {
        (Some((trap, _)), _) => telling.trap(trap),
        (None, Some(broken)) => telling.broken(broken),
        (None, None) => match (ran.breaks().next(), ran.traps().next(), left_out) {
            (Some(broken), ..) => telling.broken(broken),
            (None, Some((trap, _)), _) => telling.trap(trap),
            (None, None, []) if ran.reaches_goal => right(list.len()),
            (None, None, []) => telling.goal(),
            (None, None, [one]) => format!("{} is left out, and no order works without it", telling.say(*one)),
            (None, None, [first, rest @ ..]) => {
                let others =
                    if rest.len() == 1 { "one more step".to_owned() } else { in_words(rest.len()) + " more steps" };
                format!("{} and {others} are left out, and no order works without them", telling.say(*first))
            }
        },
    };
    text + "."
}

fn right(steps: usize) -> String {
    match steps {
        0 => "The goal holds from the start, and nothing had to be done".to_owned(),
        1 => "The one step can be done, and the goal holds".to_owned(),
        2 => "The order works: both steps can be done in turn, and the goal holds".to_owned(),
        n => format!("The order works: all {} steps can be done in turn, and the goal holds", in_words(n)),
    }
}

struct Telling<'a> {
    procedure: &'a Procedure,
    list: &'a [usize],
    ran: &'a Run,
}

impl Telling<'_> {
    /// The step's words in quotation marks.
    fn say(&self, step: usize) -> String {
        format!("“{}”", self.procedure.steps[step].say.trim().trim_end_matches('.'))
    }

    /// A step's number in the learner's list.
    fn place(&self, step: usize) -> Option<usize> {
        self.list.iter().position(|other| *other == step).map(|at| at + 1)
    }

    fn trap(&self, step: usize) -> String {
        let number = self.place(step).unwrap_or(0);
        format!("{}, number {number} in your list, is never part of a right order", self.say(step))
    }

    fn broken(&self, broken: &Break) -> String {
        let number = self.place(broken.step).unwrap_or(0);
        let Some(need) = broken.without.first() else { return format!("{} broke", self.say(broken.step)) };
        let name = self.procedure.name(need.fact);
        let what = if need.holds { format!("before “{name}” held") } else { format!("while “{name}” held") };
        format!("{}, number {number} in your list, comes {what}; {}", self.say(broken.step), self.mend(*need, number))
    }

    /// What would meet the need, and where that stands in the learner's list. `number` is the place where it was
    /// wanted.
    fn mend(&self, need: Need, number: usize) -> String {
        let procedure = self.procedure;
        let does = if need.holds { "gives" } else { "ends" };
        let writes = |step: &usize| {
            let step = &procedure.steps[*step];
            let (yes, no) = if need.holds { (&step.gives, &step.takes) } else { (&step.takes, &step.gives) };
            yes.contains(&need.fact) && (need.holds || !no.contains(&need.fact))
        };
        let givers: Vec<usize> = procedure.right_steps().filter(writes).collect();
        let later = givers.iter().copied().filter_map(|step| Some((self.place(step)?, step)));
        if let Some((place, step)) = later.clone().filter(|(place, _)| *place > number).min() {
            return format!("{} {does} that, and stands only at number {place}", self.say(step));
        }
        if let Some((place, step)) = later.filter(|(place, _)| *place < number).max() {
            let is_done = self.ran.done().any(|done| done == step);
            return if is_done {
                format!("{} had done that at number {place}, but it was undone again", self.say(step))
            } else {
                format!("{} {does} that, but at number {place} it could not be done itself", self.say(step))
            };
        }
        if let Some(step) = givers.first() {
            return format!("{} {does} that, and is left out", self.say(*step));
        }
        self.by_itself(need)
    }

    /// The need is for a reflex to meet, or nothing meets it.
    fn by_itself(&self, need: Need) -> String {
        let writes = |facts: &(&Vec<usize>, &Vec<usize>)| {
            let (gives, takes) = facts;
            if need.holds { gives.contains(&need.fact) } else { takes.contains(&need.fact) }
        };
        let reflex = self.procedure.reflexes.iter().find(|reflex| writes(&(&reflex.gives, &reflex.takes)));
        let Some(reflex) = reflex else {
            return if need.holds { "nothing gives that again".to_owned() } else { "nothing ends that".to_owned() };
        };
        let names = |holds: bool| {
            let when = reflex.when.iter().filter(move |need| need.holds == holds);
            when.map(|need| format!("“{}”", self.procedure.name(need.fact))).collect::<Vec<_>>()
        };
        let (on, off) = (names(true), names(false));
        match (on.is_empty(), off.is_empty()) {
            (true, true) => "the plant does that by itself".to_owned(),
            (false, true) => format!("the plant does that by itself once {} holds", on.join(" and ")),
            (true, false) => format!("the plant does that by itself once {} no longer holds", off.join(" and ")),
            (false, false) => format!(
                "the plant does that by itself once {} holds and {} does not",
                on.join(" and "),
                off.join(" and ")
            ),
        }
    }

    /// Every needed step was done, and yet the goal does not hold.
    fn goal(&self) -> String {
        let after = self.ran.facts_after();
        let Some(need) = self.procedure.goal.iter().find(|need| !need.is_met(&after)) else {
            return "The goal does not hold at the end".to_owned();
        };
        let name = self.procedure.name(need.fact);
        let what = if need.holds { "does not hold" } else { "still holds" };
        format!("At the end “{name}” {what}; {}", self.mend(*need, self.list.len() + 1))
    }
}
