//! Every state that can be reached. A state is the set of steps done and the facts that hold, since the facts may
//! depend on the order in which the set was done. Each state carries a tally (a number of orders, a least cost) that
//! is merged where ways meet, and is looked at once, when its tally is complete.

use std::collections::HashMap;

use super::facts::Bits;
use super::model::{Model, Restless};

/// Up to this many steps, orders are counted and compared; 20! is the last factorial below 2^64.
pub(super) const MOST_COUNTED: usize = 20;
/// At most this many states beyond the first of each set of steps: a search that needs more is given up.
const MOST_FURTHER: usize = 1_500_000;
/// The most states of a search through more steps than are counted; another way of searching may take over.
const MOST_UNCOUNTED: usize = 60_000;

/// A search met more states than are looked at, and was given up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Stopped;

/// What a search asks for.
pub(super) trait Search<const W: usize> {
    /// What each state carries.
    type Tally: Copy + Default;

    /// Looks at a state, when every way to it is known. False where this search does not go on from it.
    fn look(&mut self, done: u64, facts: Bits<W>, tally: Self::Tally) -> bool;

    /// The tally after one more step; `done` is without it.
    fn step(&self, tally: Self::Tally, step: usize, done: u64) -> Self::Tally;

    /// Joins the tally of another way to the same state.
    fn merge(tally: &mut Self::Tally, other: Self::Tally);

    /// A step could not be done: facts that lack, and facts that should not be there.
    fn unmet(&mut self, _step: usize, _lacking: Bits<W>, _standing: Bits<W>) {}

    /// A step would set the reflexes going for ever.
    fn restless(&mut self, _restless: Restless) {}
}

/// Walks through every state from the start.
pub(super) fn walk<const W: usize, S: Search<W>>(
    model: &Model<W>,
    first: S::Tally,
    search: &mut S,
) -> Result<(), Stopped> {
    match model.begin() {
        Err(restless) => {
            search.restless(restless);
            Ok(())
        }
        Ok(start) if model.len() <= MOST_COUNTED => Table::new(model.len(), start, first).walk(model, search),
        Ok(start) => by_layers(model, start, first, search),
    }
}

/// Takes every step that can be done from a state.
#[inline]
fn expand<const W: usize, S: Search<W>>(
    model: &Model<W>,
    (done, facts, tally): (u64, Bits<W>, S::Tally),
    search: &mut S,
    mut reached: impl FnMut(u64, Bits<W>, S::Tally) -> Result<(), Stopped>,
) -> Result<(), Stopped> {
    let mut undone = model.all() & !done;
    while undone != 0 {
        let step = undone.trailing_zeros() as usize;
        undone &= undone - 1;
        let (lacking, standing) = model.unmet(step, facts);
        if !(lacking | standing).is_empty() {
            search.unmet(step, lacking, standing);
            continue;
        }
        let after = search.step(tally, step, done);
        let done = done | 1 << step;
        match model.after(step, facts, done) {
            Ok(facts) => reached(done, facts, after)?,
            Err(restless) => search.restless(restless),
        }
    }
    Ok(())
}

/// The states of few steps, found by their set of steps. A set is a number that is larger than that of any part of
/// it, so going through the numbers as they rise meets every state after all that lead to it, and neighbours in
/// memory one after the other. The first state of a set stands at the set's own place, further ones behind all
/// sets, in a chain.
struct Table<const W: usize, T> {
    /// Which sets have been reached, one bit each.
    reached: Vec<u64>,
    /// The first state of each set that has been reached.
    first: Vec<Node<W, T>>,
    /// Further states, numbered from 1 by the chains.
    further: Vec<Node<W, T>>,
}

#[derive(Clone, Copy, Default)]
struct Node<const W: usize, T> {
    facts: Bits<W>,
    tally: T,
    /// The next state of the same set; 0 for none.
    next: u32,
}

impl<const W: usize, T: Copy + Default> Table<W, T> {
    fn new(steps: usize, start: Bits<W>, tally: T) -> Self {
        let sets = 1_usize << steps;
        let mut table =
            Self { reached: vec![0; sets.div_ceil(64)], first: vec![Node::default(); sets], further: Vec::new() };
        table.reached[0] = 1;
        table.first[0] = Node { facts: start, tally, next: 0 };
        table
    }

    fn walk<S: Search<W, Tally = T>>(mut self, model: &Model<W>, search: &mut S) -> Result<(), Stopped> {
        for word in 0..self.reached.len() {
            // Sets in the same word are reached while it is gone through, but only later ones.
            for bit in 0..64 {
                if self.reached[word] >> bit & 1 == 0 {
                    continue;
                }
                let set = word * 64 + bit;
                let mut node = self.first[set];
                loop {
                    if search.look(set as u64, node.facts, node.tally) {
                        let state = (set as u64, node.facts, node.tally);
                        expand(model, state, search, |set, facts, tally| self.reach(set, facts, tally, S::merge))?;
                    }
                    match node.next {
                        0 => break,
                        next => node = self.further[next as usize - 1],
                    }
                }
            }
        }
        Ok(())
    }

    #[inline]
    fn reach(&mut self, set: u64, facts: Bits<W>, tally: T, merge: fn(&mut T, T)) -> Result<(), Stopped> {
        let set = set as usize;
        let (word, bit) = (set / 64, 1 << (set % 64));
        if self.reached[word] & bit == 0 {
            self.reached[word] |= bit;
            self.first[set] = Node { facts, tally, next: 0 };
            return Ok(());
        }
        let first = &mut self.first[set];
        if first.facts == facts {
            merge(&mut first.tally, tally);
            return Ok(());
        }
        let (mut next, mut last) = (first.next, None);
        while next != 0 {
            let at = next as usize - 1;
            let node = &mut self.further[at];
            if node.facts == facts {
                merge(&mut node.tally, tally);
                return Ok(());
            }
            (next, last) = (node.next, Some(at));
        }
        if self.further.len() >= MOST_FURTHER {
            return Err(Stopped);
        }
        self.further.push(Node { facts, tally, next: 0 });
        let fresh = self.further.len() as u32;
        match last {
            None => self.first[set].next = fresh,
            Some(at) => self.further[at].next = fresh,
        }
        Ok(())
    }
}

/// The states of many steps, layer by layer: a layer holds the states after so many steps.
fn by_layers<const W: usize, S: Search<W>>(
    model: &Model<W>,
    start: Bits<W>,
    first: S::Tally,
    search: &mut S,
) -> Result<(), Stopped> {
    let mut layer = vec![(0, start, first)];
    let mut seen = 1;
    while !layer.is_empty() {
        let mut next: Vec<(u64, Bits<W>, S::Tally)> = Vec::new();
        let mut places: HashMap<(u64, Bits<W>), usize> = HashMap::new();
        for state in layer {
            if !search.look(state.0, state.1, state.2) {
                continue;
            }
            expand(model, state, search, |done, facts, tally| {
                let place = *places.entry((done, facts)).or_insert(next.len());
                match next.get_mut(place) {
                    Some(known) => S::merge(&mut known.2, tally),
                    None => next.push((done, facts, tally)),
                }
                if seen + next.len() > MOST_UNCOUNTED { Err(Stopped) } else { Ok(()) }
            })?;
        }
        seen += next.len();
        layer = next;
    }
    Ok(())
}
