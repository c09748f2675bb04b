//! Where flow goes when everything stands as it stands: shortest paths through what is open.

use std::collections::VecDeque;

use super::arcs::{Arc, Condition};
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
    /// It flows as the pipe is written, from its `from` to its `to`.
    pub forward: bool,
}

impl Path {
    /// Goes on with another path that begins where this one ends.
    pub(super) fn go_on(&mut self, with: Path) {
        self.nodes.extend(with.nodes.into_iter().skip(usize::from(!self.nodes.is_empty())));
        self.pipes.extend(with.pipes);
    }

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

impl<'a> Open<'a> {
    pub(super) fn new(network: &'a Network, arcs: &'a [Arc], setting: &Setting) -> Self {
        let mut into = vec![Vec::new(); network.nodes.len()];
        for arc in arcs.iter().filter(|arc| arc.needs.iter().flatten().all(|need| holds(*need, setting))) {
            into[arc.to].push(arc);
        }
        Self { network, into }
    }

    /// The path of fewest nodes from one node to another, and of those the first in the order of the file; none
    /// where flow cannot go. No end is passed through.
    pub(super) fn path(&self, from: usize, to: usize) -> Option<Path> {
        // How far each node is from `to`, and by which arc one goes there.
        let mut onward: Vec<Option<(usize, &Arc)>> = vec![None; self.network.nodes.len()];
        let far = |onward: &[Option<(usize, &Arc)>], node: usize| match onward[node] {
            _ if node == to => Some(0),
            known => known.map(|(far, _)| far),
        };
        let mut open = VecDeque::from([to]);
        while let Some(node) = open.pop_front() {
            if node == from {
                break;
            }
            if node != to && self.network.nodes[node].kind.is_end() {
                continue;
            }
            let here = far(&onward, node).map_or(1, |far| far + 1);
            for arc in &self.into[node] {
                let is_better = match onward[arc.from] {
                    _ if arc.from == to => false,
                    None => {
                        open.push_back(arc.from);
                        true
                    }
                    Some((far, known)) => far == here && (arc.to, arc.pipe) < (known.to, known.pipe),
                };
                if is_better {
                    onward[arc.from] = Some((here, arc));
                }
            }
        }
        let mut path = Path { nodes: vec![from], pipes: Vec::new() };
        let mut node = from;
        while node != to {
            let (_, arc) = onward[node]?;
            let forward = self.network.pipes[arc.pipe].from == arc.from;
            path.pipes.push(Stretch { pipe: arc.pipe, forward });
            path.nodes.push(arc.to);
            node = arc.to;
        }
        Some(path)
    }
}

fn holds(condition: Condition, setting: &Setting) -> bool {
    match condition {
        Condition::Open(node) => setting.open[node],
        Condition::Way(node, way) => setting.way[node] == Some(way),
        Condition::Set(node) => setting.way[node].is_some(),
    }
}
