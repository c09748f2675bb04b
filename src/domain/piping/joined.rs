//! In which settings flow can go from stop to stop, as a function of what can be turned.
//!
//! The nodes between two stops are taken out one after the other, and what each joined is joined directly instead: a node
//! in a line leaves one arc, and two lines side by side become one. What is left says all.

use std::collections::{BTreeMap, BTreeSet};

use super::TooComplex;
use super::arcs::{Arc, Condition, minds_pipes};
use super::diagram::{ALWAYS, Diagram, Function, NEVER};
use super::network::Network;

/// The functions of a condition, for one reading of the network's variables.
pub(super) trait Reading {
    /// When the condition holds.
    fn holds(&self, diagram: &mut Diagram, condition: Condition) -> Result<Function, TooComplex>;
}

/// The settings in which flow can go through all of these stops in this order: a way for each leg, so that at every stop
/// that minds its pipes the leg before comes in by one pipe and the leg after goes out by another.
pub(super) fn joined(
    network: &Network,
    arcs: &[Arc],
    diagram: &mut Diagram,
    reading: &impl Reading,
    stops: &[usize],
) -> Result<Function, TooComplex> {
    let mut stops = stops.to_vec();
    stops.dedup();
    let order = network.in_order_of_flow();
    // When flow has come to the stop, by each of its pipes where it minds them.
    let mut come: Vec<(Mouth, Function)> = vec![(None, ALWAYS)];
    for at in 1..stops.len() {
        let minds = [at - 1, at].map(|stop| minds_pipes(network, &stops, stop));
        let mut between = Between::new(network, arcs, diagram, reading, [stops[at - 1], stops[at]], minds)?;
        let mut next: BTreeMap<Mouth, Function> = BTreeMap::new();
        let mut before: Option<(Mouth, Function)> = None;
        for (out, into, when) in between.solve(diagram, &order)? {
            // In the order of the mouths that flow leaves by.
            let has_come = match before {
                Some((mouth, has_come)) if mouth == out => has_come,
                _ => by_another(diagram, &come, out)?,
            };
            before = Some((out, has_come));
            let goes = diagram.and(has_come, when)?;
            let known = next.get(&into).copied().unwrap_or(NEVER);
            next.insert(into, diagram.or(known, goes)?);
        }
        come = next.into_iter().collect();
    }
    by_another(diagram, &come, None)
}

/// The pipe by which flow leaves a stop or comes to it; none where any will do.
type Mouth = Option<usize>;

/// When flow has come by another pipe than this one.
fn by_another(diagram: &mut Diagram, come: &[(Mouth, Function)], pipe: Mouth) -> Result<Function, TooComplex> {
    let others = come.iter().filter(|(by, _)| pipe.is_none() || *by != pipe);
    others.map(|(_, when)| *when).try_fold(NEVER, |all, when| diagram.or(all, when))
}

/// What is left of the network between two stops. In the place of each of the two stand its mouths, one for each pipe
/// where it minds them.
struct Between {
    /// By what flow leaves the first stop, and the place of that mouth.
    out: Vec<(Mouth, usize)>,
    /// By what it comes to the last.
    into: Vec<(Mouth, usize)>,
    /// For each place, the places that flow can go on to, and when.
    onward: Vec<BTreeMap<usize, Function>>,
    /// For each place, the places that it can come from.
    back: Vec<BTreeSet<usize>>,
}

impl Between {
    fn new(
        network: &Network,
        arcs: &[Arc],
        diagram: &mut Diagram,
        reading: &impl Reading,
        [from, to]: [usize; 2],
        minds: [bool; 2],
    ) -> Result<Self, TooComplex> {
        let is_end = |node: usize| network.nodes[node].kind.is_end();
        // Nothing comes back to the first node, goes on from the last, or through an end.
        let is_of_use = |arc: &&Arc| {
            let can_leave = arc.from == from || (arc.from != to && !is_end(arc.from));
            let can_come = arc.to == to || (arc.to != from && !is_end(arc.to));
            can_leave && can_come && arc.from != arc.to
        };
        let arcs: Vec<&Arc> = arcs.iter().filter(is_of_use).collect();
        let after = touched(network.nodes.len(), from, arcs.iter().map(|arc| (arc.from, arc.to)));
        let before = touched(network.nodes.len(), to, arcs.iter().map(|arc| (arc.to, arc.from)));
        let is_between = |node: usize| after[node] && before[node];
        let arcs: Vec<&Arc> = arcs.into_iter().filter(|arc| is_between(arc.from) && is_between(arc.to)).collect();

        let mut places = network.nodes.len();
        let mut mouths = |minds: bool, is_there: &dyn Fn(&Arc) -> bool| {
            let pipes = arcs.iter().filter(|arc| is_there(arc)).map(|arc| minds.then_some(arc.pipe));
            let mouths: BTreeSet<Mouth> = pipes.collect();
            let first = places;
            places += mouths.len();
            mouths.into_iter().zip(first..).collect::<Vec<(Mouth, usize)>>()
        };
        let out = mouths(minds[0], &|arc| arc.from == from);
        let into = mouths(minds[1], &|arc| arc.to == to);
        let place_of = |mouths: &[(Mouth, usize)], minds: bool, pipe: usize| {
            let mouth = mouths.binary_search_by_key(&minds.then_some(pipe), |(mouth, _)| *mouth);
            mouths[mouth.unwrap_or(0)].1
        };
        let ends: Vec<(usize, usize)> = arcs
            .iter()
            .map(|arc| {
                let leaves = if arc.from == from { place_of(&out, minds[0], arc.pipe) } else { arc.from };
                let comes = if arc.to == to { place_of(&into, minds[1], arc.pipe) } else { arc.to };
                (leaves, comes)
            })
            .collect();
        let mut made = Self { out, into, onward: vec![BTreeMap::new(); places], back: vec![BTreeSet::new(); places] };
        for (arc, (leaves, comes)) in arcs.into_iter().zip(ends) {
            let mut when = ALWAYS;
            for need in arc.needs.iter().flatten() {
                let holds = reading.holds(diagram, *need)?;
                when = diagram.and(when, holds)?;
            }
            made.join(diagram, leaves, comes, when)?;
        }
        Ok(made)
    }

    fn join(&mut self, diagram: &mut Diagram, from: usize, to: usize, when: Function) -> Result<(), TooComplex> {
        let known = self.onward[from].get(&to).copied().unwrap_or(NEVER);
        let when = diagram.or(known, when)?;
        if when != NEVER {
            self.onward[from].insert(to, when);
            self.back[to].insert(from);
        }
        Ok(())
    }

    /// When flow can go from each mouth of the first stop to each of the last. Takes the nodes out from the last in the
    /// order of the variables: what is joined so far then depends on variables that stand below those to come, which is
    /// cheap to build upon.
    fn solve(&mut self, diagram: &mut Diagram, order: &[usize]) -> Result<Vec<(Mouth, Mouth, Function)>, TooComplex> {
        for node in order.iter().rev().copied() {
            self.take_out(diagram, node)?;
        }
        let mut all = Vec::new();
        for (out, leaves) in &self.out {
            for (into, comes) in &self.into {
                all.extend(self.onward[*leaves].get(comes).map(|when| (*out, *into, *when)));
            }
        }
        Ok(all)
    }

    fn take_out(&mut self, diagram: &mut Diagram, node: usize) -> Result<(), TooComplex> {
        let (back, onward) = (std::mem::take(&mut self.back[node]), std::mem::take(&mut self.onward[node]));
        for to in onward.keys() {
            self.back[*to].remove(&node);
        }
        for from in back {
            let Some(coming) = self.onward[from].remove(&node) else { continue };
            for (to, leaving) in onward.iter().filter(|(to, _)| **to != from) {
                let when = diagram.and(coming, *leaving)?;
                self.join(diagram, from, *to, when)?;
            }
        }
        Ok(())
    }
}

/// Which of `nodes` nodes can be come to from `start` by these steps.
fn touched(nodes: usize, start: usize, steps: impl Iterator<Item = (usize, usize)>) -> Vec<bool> {
    let mut onward = vec![Vec::new(); nodes];
    for (from, to) in steps {
        onward[from].push(to);
    }
    let mut is_touched = vec![false; nodes];
    let mut open = vec![start];
    while let Some(node) = open.pop() {
        if !std::mem::replace(&mut is_touched[node], true) {
            open.extend(&onward[node]);
        }
    }
    is_touched
}
