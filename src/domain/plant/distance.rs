//! How far a learner's list is from an order that works, over every working order that uses every step.
//!
//! Both measures are least sums along a path through the same states as the count of orders. *Swaps*: placing a step
//! costs the steps still unplaced that the learner had put before it, since each of them comes after it in the
//! order while the learner had it before; every pair that stands the other way round is charged exactly once, when
//! its first member is placed (the Kendall distance). *Out of place*: a step that is placed may be kept where it
//! stands after the last one kept in the learner's list; the most that can be kept is the longest part that the two
//! orders have in common. For that the tally of a state holds, for each place in the learner's list, the most steps
//! kept so far with the last of them no later than that place. It is a step function that never falls, so ways that
//! meet join by the larger number at each place.
//!
//! Most lists are near to an order that works. So the states that can only lead to something far away are left aside
//! at first: those that are already at a bound in both measures. A bound is taken from an order that keeps to the
//! list where it can; where that does not work, bounds are tried from small to large.

use super::facts::Bits;
use super::model::Model;
use super::walk::{Search, Stopped, walk};

/// Where the tally holds the swaps; the places before it hold what is kept.
const SWAPS: usize = 31;
/// No list of twenty steps is this many swaps away: 20 * 19 / 2 = 190.
const FAR: u8 = 255;

/// What a state carries: at places 0 to 30 what is kept, and [`FAR`] less the swaps at [`SWAPS`], so that the better
/// of two ways has the larger number everywhere.
type Tally = [u8; 32];

/// Swaps, and steps out of place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Distance {
    pub(super) swaps: usize,
    pub(super) out_of_place: usize,
}

/// Bounds for swaps and for steps out of place, tried one after the other; the last is none.
const BOUNDS: [(u8, u8); 4] = [(6, 2), (24, 4), (80, 8), (FAR, FAR)];

/// The least distances of a list of a model's steps, each at most once, from a working order of all of them; none
/// where no order of all of them works. The model must have at most [`super::walk::MOST_COUNTED`] steps.
pub(super) fn distance<const W: usize>(model: &Model<W>, list: &[usize]) -> Result<Option<Distance>, Stopped> {
    let mut measure = Measure::of(model, list);
    if let Some(tally) = measure.nearby() {
        // Nothing worse than this order need be looked at, and it is there if there is nothing better.
        measure.bound = measure.read(tally);
        measure.best = Some(tally);
        if measure.bound != (0, 0) {
            measure.walk()?;
        }
    } else {
        for bound in BOUNDS {
            measure.bound = bound;
            measure.walk()?;
            // What is below the bound is the least: every way to it was gone.
            let is_least = |best| {
                let (swaps, out_of_place) = measure.read(best);
                swaps < bound.0 && out_of_place < bound.1
            };
            if measure.best.is_some_and(is_least) {
                break;
            }
        }
    }
    let best = measure.best.map(|best| measure.read(best));
    Ok(best.map(|(swaps, out_of_place)| Distance { swaps: swaps.into(), out_of_place: out_of_place.into() }))
}

struct Measure<'a, const W: usize> {
    model: &'a Model<W>,
    list: &'a [usize],
    /// For each step, 255 at its own place in the list and every later one; nothing where it is not listed.
    later: Vec<Option<(usize, Tally)>>,
    /// Steps that stand before each step in the list.
    before: Vec<u64>,
    /// Steps of the list.
    listed: u64,
    /// Ways that have so many swaps, and so many steps out of place, are not gone on.
    bound: (u8, u8),
    best: Option<Tally>,
}

impl<'a, const W: usize> Measure<'a, W> {
    fn of(model: &'a Model<W>, list: &'a [usize]) -> Self {
        let (mut later, mut before) = (vec![None; model.len()], vec![0; model.len()]);
        let mut listed = 0;
        for (place, &step) in list.iter().enumerate() {
            later[step] = Some((place, std::array::from_fn(|at| if (place..SWAPS).contains(&at) { 255 } else { 0 })));
            before[step] = listed;
            listed |= 1 << step;
        }
        Self { model, list, later, before, listed, bound: (FAR, FAR), best: None }
    }

    fn walk(&mut self) -> Result<(), Stopped> {
        let mut first = [0; 32];
        first[SWAPS] = FAR;
        walk(self.model, first, self)
    }

    /// Swaps and steps out of place of a tally with every step done.
    fn read(&self, tally: Tally) -> (u8, u8) {
        let kept = self.list.len().checked_sub(1).map_or(0, |last| tally[last]);
        (FAR - tally[SWAPS], self.list.len() as u8 - kept)
    }

    /// The tally of an order that keeps to the list where it can, if that order works.
    fn nearby(&self) -> Option<Tally> {
        let (mut done, mut facts) = (0, self.model.begin().ok()?);
        let mut tally = [0; 32];
        tally[SWAPS] = FAR;
        while done != self.model.all() {
            let can = |step: &usize| {
                let (lacking, standing) = self.model.unmet(*step, facts);
                done >> step & 1 == 0 && (lacking | standing).is_empty()
            };
            let next = self.list.iter().copied().find(|step| done >> step & 1 == 0).filter(can);
            let other = (0..self.model.len()).filter(|step| self.listed >> step & 1 == 0).find(can);
            let step = next.or(other).or_else(|| self.list.iter().copied().find(can))?;
            tally = self.placed(tally, step, done);
            done |= 1 << step;
            facts = self.model.after(step, facts, done).ok()?;
        }
        self.model.is_goal(facts).then_some(tally)
    }

    #[inline]
    fn placed(&self, mut tally: Tally, step: usize, done: u64) -> Tally {
        let Some((place, later)) = &self.later[step] else { return tally };
        tally[SWAPS] -= (self.before[step] & !done).count_ones() as u8;
        let kept = 1 + place.checked_sub(1).map_or(0, |before| tally[before]);
        for (most, later) in tally.iter_mut().zip(later) {
            *most = (*most).max(kept & later);
        }
        tally
    }
}

impl<const W: usize> Measure<'_, W> {
    /// The fewest steps out of place that may come of a state: those placed and not kept, and those still to be
    /// placed that the list has before the last one kept.
    fn lifted(&self, done: u64, tally: &Tally) -> u8 {
        let placed = (self.listed & done).count_ones() as u8;
        let (mut waiting, mut fewest) = (0, placed);
        for (step, kept) in self.list.iter().zip(tally) {
            fewest = fewest.min(placed - kept + waiting);
            waiting += u8::from(done >> step & 1 == 0);
        }
        fewest
    }
}

impl<const W: usize> Search<W> for Measure<'_, W> {
    type Tally = Tally;

    fn look(&mut self, done: u64, facts: Bits<W>, tally: Tally) -> bool {
        if done == self.model.all() && self.model.is_goal(facts) {
            Self::merge(self.best.get_or_insert([0; 32]), tally);
        }
        FAR - tally[SWAPS] < self.bound.0 || self.lifted(done, &tally) < self.bound.1
    }

    #[inline]
    fn step(&self, tally: Tally, step: usize, done: u64) -> Tally {
        self.placed(tally, step, done)
    }

    #[inline]
    fn merge(tally: &mut Tally, other: Tally) {
        for (most, other) in tally.iter_mut().zip(other) {
            *most = (*most).max(other);
        }
    }
}
