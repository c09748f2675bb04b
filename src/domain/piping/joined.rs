//! In which settings flow can go from one node to another, as a function of what can be turned.
//!
//! The nodes between the two are taken out one after the other, and what each joined is joined directly instead:
//! a node in a line leaves one arc, two lines side by side become one. What is left says all.

use std::collections::{BTreeMap, BTreeSet};

use super::TooComplex;
use super::arcs::{Arc, Condition};
use super::diagram::{ALWAYS, Diagram, Function, NEVER};
use super::network::Network;

/// The functions of a condition, for one reading of the network's variables.
pub(super) trait Reading {
    /// When the condition holds.
    fn holds(&self, diagram: &mut Diagram, condition: Condition) -> Result<Function, TooComplex>;
}

/// The settings in which flow can go through all of these nodes in this order.
pub(super) fn joined(
    network: &Network,
    arcs: &[Arc],
    diagram: &mut Diagram,
    reading: &impl Reading,
    nodes: &[usize],
) -> Result<Function, TooComplex> {
    let mut all = ALWAYS;
    for leg in nodes.windows(2).filter(|leg| leg[0] != leg[1]) {
        let mut between = Between::new(network, arcs, diagram, reading, leg[0], leg[1])?;
        let one = between.solve(diagram)?;
        all = diagram.and(all, one)?;
    }
    Ok(all)
}

/// What is left of the network between two nodes.
struct Between {
    from: usize,
    to: usize,
    /// For each node, the nodes that flow can go on to, and when.
    onward: Vec<BTreeMap<usize, Function>>,
    /// For each node, the nodes that it can come from.
    back: Vec<BTreeSet<usize>>,
    /// Nodes to be taken out.
    inner: BTreeSet<usize>,
}

impl Between {
    fn new(
        network: &Network,
        arcs: &[Arc],
        diagram: &mut Diagram,
        reading: &impl Reading,
        from: usize,
        to: usize,
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
        let mut made = Self {
            from,
            to,
            onward: vec![BTreeMap::new(); network.nodes.len()],
            back: vec![BTreeSet::new(); network.nodes.len()],
            inner: (0..network.nodes.len()).filter(|node| is_between(*node) && *node != from && *node != to).collect(),
        };
        for arc in arcs.into_iter().filter(|arc| is_between(arc.from) && is_between(arc.to)) {
            let mut when = ALWAYS;
            for need in arc.needs.iter().flatten() {
                let holds = reading.holds(diagram, *need)?;
                when = diagram.and(when, holds)?;
            }
            made.join(diagram, arc.from, arc.to, when)?;
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

    fn solve(&mut self, diagram: &mut Diagram) -> Result<Function, TooComplex> {
        // The node whose leaving makes the fewest new arcs goes first.
        let cost = |made: &Self, node: usize| made.back[node].len() * made.onward[node].len();
        while let Some(node) = self.inner.iter().copied().min_by_key(|node| cost(self, *node)) {
            self.inner.remove(&node);
            self.take_out(diagram, node)?;
        }
        Ok(self.onward[self.from].get(&self.to).copied().unwrap_or(NEVER))
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
