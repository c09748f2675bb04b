//! What all orders of all sets of steps have in common: does one work, how many that use every step work, which is
//! a shortest one, which steps none can do without, and which needs can be unmet on the way.

use std::collections::HashSet;

use super::facts::Bits;
use super::model::{Model, Restless};
use super::walk::{MOST_COUNTED, Search, Stopped, walk};

/// What is known of a model; steps are meant by their position in the model.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Survey<const W: usize> {
    /// How many orders that use every step work; none beyond [`MOST_COUNTED`] steps.
    pub(super) orders: Option<u64>,
    /// The first, in the order of the file, of the working orders with fewest steps; none where none works.
    pub(super) one: Option<Vec<usize>>,
    /// Steps that are in every working order, one bit each; all of them where none works.
    pub(super) needed: u64,
    /// For each step, facts that may lack and facts that may stand against it when it is tried.
    pub(super) unmet: Vec<(Bits<W>, Bits<W>)>,
    /// Steps that can be done in some state, one bit each.
    pub(super) doable: u64,
    /// Facts that hold in some state, and those that do not in some state.
    pub(super) seen: (Bits<W>, Bits<W>),
    /// Reflexes that go on for ever from some state, one bit each.
    pub(super) restless: u64,
}

/// Surveys a model.
pub(super) fn survey<const W: usize>(model: &Model<W>) -> Result<Survey<W>, Stopped> {
    let mut surveyor = Surveyor {
        model,
        fewest: None,
        survey: Survey {
            orders: (model.len() <= MOST_COUNTED).then_some(0),
            one: None,
            needed: model.all(),
            unmet: vec![(Bits::NONE, Bits::NONE); model.len()],
            doable: 0,
            seen: (Bits::NONE, Bits::NONE),
            restless: 0,
        },
    };
    walk(model, 1, &mut surveyor)?;
    let Surveyor { fewest, mut survey, .. } = surveyor;
    if let (Some(fewest), Ok(start)) = (fewest, model.begin()) {
        let mut finder = Finder { model, fewest, needed: survey.needed, failed: HashSet::new(), order: Vec::new() };
        survey.one = finder.finds(0, start).then_some(finder.order);
    }
    Ok(survey)
}

struct Surveyor<'a, const W: usize> {
    model: &'a Model<W>,
    /// Steps of a shortest working order.
    fewest: Option<u32>,
    survey: Survey<W>,
}

impl<const W: usize> Search<W> for Surveyor<'_, W> {
    type Tally = u64;

    fn look(&mut self, done: u64, facts: Bits<W>, orders: u64) -> bool {
        let survey = &mut self.survey;
        survey.doable |= done;
        survey.seen = (survey.seen.0 | facts, survey.seen.1 | !facts);
        if !self.model.is_goal(facts) {
            return true;
        }
        survey.needed &= done;
        self.fewest = Some(self.fewest.map_or(done.count_ones(), |fewest| fewest.min(done.count_ones())));
        if done == self.model.all() {
            survey.orders = survey.orders.map(|sum| sum.saturating_add(orders));
        }
        true
    }

    #[inline]
    fn step(&self, orders: u64, _: usize, _: u64) -> u64 {
        orders
    }

    #[inline]
    fn merge(orders: &mut u64, other: u64) {
        *orders = orders.saturating_add(other);
    }

    #[inline]
    fn unmet(&mut self, step: usize, lacking: Bits<W>, standing: Bits<W>) {
        let unmet = &mut self.survey.unmet[step];
        *unmet = (unmet.0 | lacking, unmet.1 | standing);
    }

    fn restless(&mut self, restless: Restless) {
        self.survey.restless |= restless.0;
    }
}

/// Finds the first order of so many steps that works, going deep first. Needed steps must all fit in, which leaves
/// few ways to try.
struct Finder<'a, const W: usize> {
    model: &'a Model<W>,
    fewest: u32,
    needed: u64,
    failed: HashSet<(u64, Bits<W>)>,
    order: Vec<usize>,
}

impl<const W: usize> Finder<'_, W> {
    fn finds(&mut self, done: u64, facts: Bits<W>) -> bool {
        if done.count_ones() == self.fewest {
            return self.model.is_goal(facts);
        }
        if done.count_ones() + (self.needed & !done).count_ones() > self.fewest || self.failed.contains(&(done, facts))
        {
            return false;
        }
        for step in (0..self.model.len()).filter(|step| done >> step & 1 == 0) {
            let (lacking, standing) = self.model.unmet(step, facts);
            let then = done | 1 << step;
            if !(lacking | standing).is_empty() {
                continue;
            }
            let Ok(after) = self.model.after(step, facts, then) else { continue };
            self.order.push(step);
            if self.finds(then, after) {
                return true;
            }
            self.order.pop();
        }
        self.failed.insert((done, facts));
        false
    }
}
