//! What the engine knows of a procedure before anyone has answered: does it work, in how many orders, what is
//! needed; and what its writer should be told.

use std::collections::HashSet;

use super::distance::distance;
use super::facts::Bits;
use super::model::{Model, kept};
use super::procedure::{Need, Procedure};
use super::survey::Survey;
use super::walk::{MOST_COUNTED, Stopped};
use super::{eager, survey};

/// Pairs of states that are looked at to see whether a step is ever of use.
const MOST_PAIRS: usize = 20_000;

/// What is known of a procedure. Steps are meant by position, and stand in the order of the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Proof {
    /// Some order of some of the steps works.
    pub works: bool,
    /// How many orders that use every step that is no trap work; none where there are more than 20 such steps, or
    /// too many states to be counted.
    pub orders: Option<u64>,
    /// A working order of fewest steps, the first in the order of the file.
    pub one: Option<Vec<usize>>,
    /// Steps without which no order works.
    pub needed: Vec<usize>,
    /// The other steps that are no traps.
    pub optional: Vec<usize>,
    /// Never part of a right answer.
    pub traps: Vec<usize>,
}

/// What the writer of a procedure should be told.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Findings {
    /// For each step, its needs that are unmet in some order when it is tried; empty for traps.
    pub unmet: Vec<Vec<Need>>,
    /// Steps that no order can do.
    pub never_done: Vec<usize>,
    /// Needs and goals that hold in no order.
    pub never_met: Vec<Need>,
    /// Steps that no working order needs: it works as well without them.
    pub needless: Vec<usize>,
    /// Traps without which the goal cannot be reached.
    pub needed_traps: Vec<usize>,
    /// Reflexes that go on for ever in some order.
    pub restless: Vec<usize>,
}

/// How far a list is from the orders that work; see the deck format for the exact meaning.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Distance {
    /// Fewest pairs that stand the other way round.
    pub swaps: usize,
    /// Fewest steps to lift out.
    pub out_of_place: usize,
}

/// A procedure with so many states that nothing can be said of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("this procedure has too many steps that may stand in any order for its orders to be judged")]
pub struct TooComplex;

/// Proves a procedure.
///
/// # Errors
/// Where it has too many states to be looked through.
pub fn prove(procedure: &Procedure) -> Result<Proof, TooComplex> {
    let steps: Vec<usize> = procedure.right_steps().collect();
    of_size(procedure, &steps, Prover { procedure })
}

/// Proves a procedure, and finds what its writer should be told.
///
/// # Errors
/// Where it has too many states to be looked through.
pub fn examine(procedure: &Procedure) -> Result<(Proof, Findings), TooComplex> {
    let steps: Vec<usize> = procedure.right_steps().collect();
    let (proof, mut findings) = of_size(procedure, &steps, Examiner { procedure })?;
    if !proof.works && !proof.traps.is_empty() && findings.restless.is_empty() {
        let all: Vec<usize> = (0..procedure.steps.len()).collect();
        if let Ok(with_traps) = of_size(procedure, &all, Prover { procedure }) {
            findings.needed_traps = needed_traps(&proof, &with_traps);
        }
    }
    Ok((proof, findings))
}

/// How far a list of steps, each by position and at most once, is from the working orders that use every step that
/// is no trap. Traps of the list are left out of it. None where there are no such orders, or too many to tell.
pub fn distance_of(procedure: &Procedure, list: &[usize]) -> Option<Distance> {
    let steps: Vec<usize> = procedure.right_steps().collect();
    let list: Vec<usize> = list.iter().filter_map(|step| steps.binary_search(step).ok()).collect();
    if steps.len() > MOST_COUNTED { None } else { of_size(procedure, &steps, Measurer { list }) }
}

/// Work on a model of whichever width.
trait Work {
    type Found;
    fn on<const W: usize>(self, model: &Model<W>) -> Self::Found;
}

fn of_size<T: Work>(procedure: &Procedure, steps: &[usize], work: T) -> T::Found {
    let kept = kept(procedure, steps);
    if kept.len() <= 64 {
        work.on(&Model::<1>::new(procedure, steps, kept))
    } else {
        work.on(&Model::<4>::new(procedure, steps, kept))
    }
}

fn survey_of<const W: usize>(model: &Model<W>) -> Result<Survey<W>, TooComplex> {
    survey::survey(model).or_else(|Stopped| eager::survey(model)).map_err(|Stopped| TooComplex)
}

struct Prover<'a> {
    procedure: &'a Procedure,
}

impl Work for Prover<'_> {
    type Found = Result<Proof, TooComplex>;

    fn on<const W: usize>(self, model: &Model<W>) -> Self::Found {
        survey_of(model).map(|survey| proof(self.procedure, model, &survey))
    }
}

struct Examiner<'a> {
    procedure: &'a Procedure,
}

impl Work for Examiner<'_> {
    type Found = Result<(Proof, Findings), TooComplex>;

    fn on<const W: usize>(self, model: &Model<W>) -> Self::Found {
        let survey = survey_of(model)?;
        Ok((proof(self.procedure, model, &survey), findings(self.procedure, model, &survey)))
    }
}

struct Measurer {
    list: Vec<usize>,
}

impl Work for Measurer {
    type Found = Option<Distance>;

    fn on<const W: usize>(self, model: &Model<W>) -> Self::Found {
        let found = distance(model, &self.list).ok()??;
        Some(Distance { swaps: found.swaps, out_of_place: found.out_of_place })
    }
}

fn proof<const W: usize>(procedure: &Procedure, model: &Model<W>, survey: &Survey<W>) -> Proof {
    let of = |wanted: bool| {
        let is = move |at: &usize| (survey.needed >> at & 1 == 1) == wanted;
        (0..model.len()).filter(is).map(|at| model.steps[at]).collect()
    };
    Proof {
        works: survey.one.is_some(),
        orders: survey.orders,
        one: survey.one.as_ref().map(|one| one.iter().map(|at| model.steps[*at]).collect()),
        needed: of(true),
        optional: of(false),
        traps: procedure.traps().collect(),
    }
}

fn findings<const W: usize>(procedure: &Procedure, model: &Model<W>, survey: &Survey<W>) -> Findings {
    let has = |bits: &Bits<W>, fact: usize| model.kept.binary_search(&fact).is_ok_and(|bit| bits.has(bit));
    let mut unmet = vec![Vec::new(); procedure.steps.len()];
    for (at, &step) in model.steps.iter().enumerate() {
        let (lacking, standing) = &survey.unmet[at];
        let needs = procedure.steps[step].needs.iter().copied();
        unmet[step] =
            needs.filter(|need| has(if need.holds { lacking } else { standing }, need.fact)).collect::<Vec<_>>();
    }
    let never = |need: &Need| !has(if need.holds { &survey.seen.0 } else { &survey.seen.1 }, need.fact);
    let needs = model.steps.iter().flat_map(|step| &procedure.steps[*step].needs);
    let mut never_met: Vec<Need> = Vec::new();
    for need in procedure.goal.iter().chain(needs).filter(|need| never(need)) {
        if !never_met.contains(need) {
            never_met.push(*need);
        }
    }
    let works = survey.one.is_some();
    let is_needless = |at: &usize| works && survey.needed >> at & 1 == 0 && is_needless(model, *at);
    Findings {
        unmet,
        never_done: (0..model.len()).filter(|at| survey.doable >> at & 1 == 0).map(|at| model.steps[at]).collect(),
        never_met,
        needless: (0..model.len()).filter(is_needless).map(|at| model.steps[at]).collect(),
        needed_traps: Vec::new(),
        restless: (0..procedure.reflexes.len()).filter(|at| survey.restless >> at & 1 == 1).collect(),
    }
}

/// The traps that every order with traps needs; where each can be spared for another, those of a shortest order.
fn needed_traps(proof: &Proof, with_traps: &Proof) -> Vec<usize> {
    let among = |steps: &[usize]| steps.iter().copied().filter(|step| proof.traps.contains(step)).collect::<Vec<_>>();
    let needed = if with_traps.works { among(&with_traps.needed) } else { Vec::new() };
    match &with_traps.one {
        Some(one) if needed.is_empty() => {
            let mut used = among(one);
            used.sort_unstable();
            used
        }
        _ => needed,
    }
}

/// Whether every working order that has the step works as well without it. Walks the plant twice at once: with the
/// step, and with all but the step. Where that takes too long, the step is held to be of use.
fn is_needless<const W: usize>(model: &Model<W>, step: usize) -> bool {
    let Ok(start) = model.begin() else { return true };
    if (model.change(step).gives | model.change(step).takes).is_empty() {
        // Nothing reads what it writes.
        return true;
    }
    let mut seen = HashSet::new();
    // What is done, the facts, and the facts of the same way without the step: none once that way has broken.
    let mut open: Vec<(u64, Bits<W>, Option<Bits<W>>)> = vec![(0, start, Some(start))];
    while let Some((done, with, without)) = open.pop() {
        let has_step = done >> step & 1 == 1;
        if has_step && model.is_goal(with) && !without.is_some_and(|facts| model.is_goal(facts)) {
            return false;
        }
        // Once both ways stand alike, they go on alike.
        if (has_step && without == Some(with)) || !seen.insert((done, with, without)) {
            continue;
        }
        if seen.len() > MOST_PAIRS {
            return false;
        }
        for next in (0..model.len()).filter(|next| done >> next & 1 == 0) {
            let can = |facts: Bits<W>| {
                let (lacking, standing) = model.unmet(next, facts);
                (lacking | standing).is_empty()
            };
            let then = done | 1 << next;
            let Some(after) = can(with).then(|| model.after(next, with, then).ok()).flatten() else { continue };
            let other = match without {
                Some(facts) if next == step => Some(facts),
                Some(facts) if can(facts) => model.after(next, facts, then).ok(),
                _ => None,
            };
            open.push((then, after, other));
        }
    }
    true
}
