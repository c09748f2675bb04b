//! Where flow goes when everything stands as it stands: shortest paths through what is open.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::arcs::{Arc, Condition, minds_pipes};
use super::network::{Network, Setting};

/// A way that flow takes, from node to node.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Path {
    /// The nodes passed, first and last included; never empty.
    pub nodes: Vec<usize>,
    /// The pipes between them, one fewer.
    pub pipes: Vec<Stretch>,
}

/// Flow in a pipe.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Stretch {
    /// The pipe, by position.
    pub pipe: usize,
    /// Whether flow goes as the pipe is written, from its `from` to its `to`.
    pub forward: bool,
}

impl Path {
    /// The part of it that ends at the node in this place along it.
    pub(super) fn until(mut self, place: usize) -> Self {
        self.nodes.truncate(place + 1);
        self.pipes.truncate(place);
        self
    }
}

/// What is joined with what in one setting.
pub(super) struct Open<'a> {
    network: &'a Network,
    /// The arcs that flow can take, by the node they come to.
    into: Vec<Vec<&'a Arc>>,
}

/// A step from a node, and how many pipes lie before the last stop with it. Of several, the least is taken: the shortest,
/// then the first in the order of the file.
type Step<'a> = (usize, usize, usize, &'a Arc);

impl<'a> Open<'a> {
    pub(super) fn new(network: &'a Network, arcs: &'a [Arc], setting: &Setting) -> Self {
        let mut made = Self { network, into: vec![Vec::new(); network.nodes.len()] };
        for arc in arcs.iter().filter(|arc| arc.needs.iter().flatten().all(|need| holds(*need, setting))) {
            made.into[arc.to].push(arc);
        }
        made
    }

    /// The path of fewest nodes through all of these stops in this order, and of those the first in the order of the
    /// file; none where flow cannot go. No end is passed through, and at a stop that minds its pipes flow goes on by
    /// another pipe than it came by. Stops are one or more.
    pub(super) fn path(&self, stops: &[usize]) -> Option<Path> {
        let mut stops = stops.to_vec();
        stops.dedup();
        let mut path = Path { nodes: vec![*stops.first()?], pipes: Vec::new() };
        let mut legs: Vec<Leg<'a>> = Vec::with_capacity(stops.len());
        for at in (1..stops.len()).rev() {
            let minds = minds_pipes(self.network, &stops, at);
            let next = legs.last().map(|leg| (leg, minds));
            let leg = self.leg(stops[at - 1], stops[at], next);
            legs.push(leg);
        }
        let mut came_by = None;
        for (at, leg) in legs.iter().rev().enumerate() {
            let minded = came_by.filter(|_| minds_pipes(self.network, &stops, at));
            let mut step = leg.leaving(minded)?;
            loop {
                let (.., arc) = step;
                let forward = self.network.pipes[arc.pipe].from == arc.from;
                path.pipes.push(Stretch { pipe: arc.pipe, forward });
                path.nodes.push(arc.to);
                if arc.to == stops[at + 1] {
                    came_by = Some(arc.pipe);
                    break;
                }
                step = leg.between[arc.to]?;
            }
        }
        Some(path)
    }

    /// The steps of one leg, from the far end of the flow: `next` is the leg after it, and whether the stop between them
    /// minds its pipes.
    fn leg(&self, from: usize, to: usize, next: Option<(&Leg<'a>, bool)>) -> Leg<'a> {
        // How many pipes lie before the last stop once flow has come to `to` by this pipe.
        let left = |pipe: usize| match next {
            None => Some(0),
            Some((leg, minds)) => leg.leaving(minds.then_some(pipe)).map(|(far, ..)| far),
        };
        let passes = |node: usize| node != from && node != to && !self.network.nodes[node].kind.is_end();
        let mut leg = Leg { leaving: Vec::new(), between: vec![None; self.network.nodes.len()] };
        let mut open: BinaryHeap<Reverse<(usize, usize)>> = BinaryHeap::new();
        let mut offer = |arc: &'a Arc, far: usize, open: &mut BinaryHeap<Reverse<(usize, usize)>>| {
            let step = (far, arc.to, arc.pipe, arc);
            if arc.from == from {
                leg.leaving.push(step);
            } else if passes(arc.from) && leg.between[arc.from].is_none_or(|known| order(&step) < order(&known)) {
                if leg.between[arc.from].is_none_or(|known| far < known.0) {
                    open.push(Reverse((far, arc.from)));
                }
                leg.between[arc.from] = Some(step);
            }
        };
        for arc in &self.into[to] {
            if let Some(left) = left(arc.pipe) {
                offer(arc, left + 1, &mut open);
            }
        }
        let mut is_done = vec![false; self.network.nodes.len()];
        while let Some(Reverse((far, node))) = open.pop() {
            if !std::mem::replace(&mut is_done[node], true) {
                for arc in &self.into[node] {
                    offer(arc, far + 1, &mut open);
                }
            }
        }
        leg.leaving.sort_unstable_by_key(order);
        leg
    }
}

/// The best steps of one leg.
struct Leg<'a> {
    /// From its first stop, the best first; one for each pipe.
    leaving: Vec<Step<'a>>,
    /// From each node between its stops.
    between: Vec<Option<Step<'a>>>,
}

impl<'a> Leg<'a> {
    /// The best step from the first stop, by another pipe than this.
    fn leaving(&self, came_by: Option<usize>) -> Option<Step<'a>> {
        self.leaving.iter().copied().find(|(.., pipe, _)| came_by != Some(*pipe))
    }
}

fn order(step: &Step<'_>) -> (usize, usize, usize) {
    (step.0, step.1, step.2)
}

fn holds(condition: Condition, setting: &Setting) -> bool {
    match condition {
        Condition::Open(node) => setting.open[node],
        Condition::Way(node, way) => setting.way[node] == Some(way),
        Condition::Set(node) => setting.way[node].is_some(),
    }
}
