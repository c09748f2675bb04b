//! The survey of a procedure that is too wide to be walked state by state: many steps with little order between
//! them. Nothing is counted, and the rest is found by asking again and again whether the goal can be reached with
//! these steps or those.
//!
//! A step is *safe* when it can only help: what it makes true is nowhere wanted false (or waited for by a reflex
//! that does harm), what it makes false is nowhere wanted true, and nothing ever undoes it. A safe step may be done
//! as soon as it can be done: any order that leads to the goal does so still when it is moved to the front. So only
//! the order of the other steps has to be tried.

use std::collections::HashSet;

use super::facts::Bits;
use super::model::{Change, Model};
use super::survey::Survey;
use super::walk::Stopped;

/// So many states are looked at in all.
const MOST_LOOKS: usize = 200_000;
/// A shortest order may need so many steps beyond those that every order needs.
const MOST_EXTRAS: usize = 3;

/// Surveys a model without walking through all of its states.
pub(super) fn survey<const W: usize>(model: &Model<W>) -> Result<Survey<W>, Stopped> {
    let Ok(start) = model.begin() else {
        // The walk meets this at once and ends there, so it never comes here.
        return Err(Stopped);
    };
    let mut asker = Asker { model, safe: safe(model), looks: 0, restless: 0 };
    let all = model.all();
    let works = asker.reaches(0, start, all)?;
    let mut needed = all;
    if works {
        needed = 0;
        for step in bits(all) {
            if !asker.reaches(0, start, all & !(1 << step))? {
                needed |= 1 << step;
            }
        }
    }
    let one = if works { Some(asker.shortest(start, needed)?) } else { None };
    let unmet = (0..model.len()).map(|step| may_lack(model, start, model.change(step))).collect();
    Ok(Survey {
        orders: None,
        one,
        needed,
        unmet,
        doable: all,
        seen: (!Bits::NONE, !Bits::NONE),
        restless: asker.restless,
    })
}

struct Asker<'a, const W: usize> {
    model: &'a Model<W>,
    safe: u64,
    looks: usize,
    restless: u64,
}

impl<const W: usize> Asker<'_, W> {
    /// Whether the goal can be reached from here with steps of `allowed`.
    fn reaches(&mut self, done: u64, facts: Bits<W>, allowed: u64) -> Result<bool, Stopped> {
        let mut seen = HashSet::new();
        let mut open = vec![(done, facts)];
        while let Some((done, facts)) = open.pop() {
            let (done, facts) = self.close(done, facts, allowed);
            if self.model.is_goal(facts) {
                return Ok(true);
            }
            if !seen.insert((done, facts)) {
                continue;
            }
            self.looks += 1;
            if self.looks > MOST_LOOKS {
                return Err(Stopped);
            }
            let next = bits(allowed & !done & !self.safe).filter_map(|step| self.after(step, done, facts));
            open.extend(next.collect::<Vec<_>>());
        }
        Ok(false)
    }

    /// Does every safe step that can be done, until none can.
    fn close(&mut self, mut done: u64, mut facts: Bits<W>, allowed: u64) -> (u64, Bits<W>) {
        loop {
            let before = done;
            for step in bits(allowed & !done & self.safe) {
                if let Some(after) = self.after(step, done, facts) {
                    (done, facts) = after;
                    // The goal may hold in passing, and every step after it is one too many.
                    if self.model.is_goal(facts) {
                        return (done, facts);
                    }
                }
            }
            if done == before {
                return (done, facts);
            }
        }
    }

    fn after(&mut self, step: usize, done: u64, facts: Bits<W>) -> Option<(u64, Bits<W>)> {
        let (lacking, standing) = self.model.unmet(step, facts);
        if !(lacking | standing).is_empty() {
            return None;
        }
        let done = done | 1 << step;
        match self.model.after(step, facts, done) {
            Ok(facts) => Some((done, facts)),
            Err(restless) => {
                self.restless |= restless.0;
                None
            }
        }
    }

    /// The first of the shortest orders: every needed step, and as few others as will do.
    fn shortest(&mut self, start: Bits<W>, needed: u64) -> Result<Vec<usize>, Stopped> {
        let others: Vec<usize> = bits(self.model.all() & !needed).collect();
        for extras in 0..=MOST_EXTRAS.min(others.len()) {
            let mut best: Option<Vec<usize>> = None;
            let mut chosen: Vec<usize> = (0..extras).collect();
            loop {
                let allowed = chosen.iter().fold(needed, |sum, at| sum | 1 << others[*at]);
                if self.reaches(0, start, allowed)? {
                    let order = self.first_order(start, allowed)?;
                    best = Some(best.map_or(order.clone(), |best| best.min(order)));
                }
                if !next_choice(&mut chosen, others.len()) {
                    break;
                }
            }
            if let Some(best) = best {
                return Ok(best);
            }
        }
        Err(Stopped)
    }

    /// The first order, in the order of the file, of steps that all have to be used.
    fn first_order(&mut self, start: Bits<W>, allowed: u64) -> Result<Vec<usize>, Stopped> {
        let (mut done, mut facts, mut order) = (0, start, Vec::new());
        while !self.model.is_goal(facts) {
            let mut next = None;
            for step in bits(allowed & !done) {
                let Some((then, after)) = self.after(step, done, facts) else { continue };
                if self.reaches(then, after, allowed)? {
                    next = Some((step, then, after));
                    break;
                }
            }
            let Some((step, then, after)) = next else { return Err(Stopped) };
            order.push(step);
            (done, facts) = (then, after);
        }
        Ok(order)
    }
}

/// Moves on to the next choice of so many of `count`; false after the last.
fn next_choice(chosen: &mut [usize], count: usize) -> bool {
    let size = chosen.len();
    let Some(at) = (0..size).rev().find(|at| chosen[*at] < count - size + at) else { return false };
    chosen[at] += 1;
    for later in at + 1..size {
        chosen[later] = chosen[later - 1] + 1;
    }
    true
}

/// Steps that can only help, and that nothing undoes.
fn safe<const W: usize>(model: &Model<W>) -> u64 {
    let (mut wanted, mut unwanted) = (model.goal().on, model.goal().off);
    for step in 0..model.len() {
        wanted = wanted | model.change(step).on;
        unwanted = unwanted | model.change(step).off;
    }
    let meets = |a: Bits<W>, b: Bits<W>| !(a & b).is_empty();
    let lost = |change: &Change<W>| change.takes & !change.gives;
    loop {
        let before = (wanted, unwanted);
        for reflex in model.reflexes() {
            if meets(reflex.gives, wanted) || meets(lost(reflex), unwanted) {
                (wanted, unwanted) = (wanted | reflex.on, unwanted | reflex.off);
            }
            if meets(reflex.gives, unwanted) || meets(lost(reflex), wanted) {
                (wanted, unwanted) = (wanted | reflex.off, unwanted | reflex.on);
            }
        }
        if before == (wanted, unwanted) {
            break;
        }
    }
    let is_safe = |step: &usize| {
        let own = model.change(*step);
        let others = (0..model.len()).filter(|other| other != step).map(|other| model.change(other));
        !meets(own.gives, unwanted)
            && !meets(lost(own), wanted)
            && others
                .chain(model.reflexes())
                .all(|other| !meets(own.gives & wanted, other.takes) && !meets(lost(own) & unwanted, other.gives))
    };
    (0..model.len()).filter(is_safe).fold(0, |sum, step| sum | 1 << step)
}

/// Needs that may be unmet, as far as can be told without trying every order: those unmet at the start, and those
/// that something undoes.
fn may_lack<const W: usize>(model: &Model<W>, start: Bits<W>, step: &Change<W>) -> (Bits<W>, Bits<W>) {
    let all = (0..model.len()).map(|other| model.change(other)).chain(model.reflexes());
    let (given, taken) =
        all.fold((start, !start), |(given, taken), change| (given | change.gives, taken | change.takes));
    (step.on & taken, step.off & given)
}

/// Positions of the bits that are set.
fn bits(mut set: u64) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        (set != 0).then(|| {
            let at = set.trailing_zeros() as usize;
            set &= set - 1;
            at
        })
    })
}
