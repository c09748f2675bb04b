//! From pipes to arcs: every way from a node to its neighbour that flow could ever take, with what must stand how
//! for it. All that a kind of node means for flow is said here, once.

use super::network::{Network, NodeKind};

/// What must hold for flow to leave a node by a pipe, or to come in by one. More of it never stops flow.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Condition {
    /// The node stands open.
    Open(usize),
    /// The three-way valve is joined with this one of its ways.
    Way(usize, usize),
    /// The three-way valve is joined with one of its ways, whichever: what its common pipes ask.
    Set(usize),
}

/// A step that flow can take from a node to a neighbour of it while its conditions hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Arc {
    pub(super) from: usize,
    pub(super) to: usize,
    pub(super) pipe: usize,
    pub(super) needs: [Option<Condition>; 2],
}

/// The arcs of a network: for each pipe in the order of the file, onward and then back.
pub(super) fn arcs(network: &Network) -> Vec<Arc> {
    let mut arcs = Vec::with_capacity(network.pipes.len() * 2);
    for (pipe, ends) in network.pipes.iter().enumerate() {
        for (from, to) in [(ends.from, ends.to), (ends.to, ends.from)] {
            let is_onward = from == ends.from;
            let (leaving, coming) = (gate(network, from, to, is_onward), gate(network, to, from, is_onward));
            if let (Gate::Passes(leaving), Gate::Passes(coming)) = (leaving, coming) {
                arcs.push(Arc { from, to, pipe, needs: [leaving, coming] });
            }
        }
    }
    arcs
}

/// What a node has to say of flow by one of its pipes.
enum Gate {
    Never,
    Passes(Option<Condition>),
}

/// The gate of `node` for flow between it and `neighbour`. Flow is onward when it goes as the pipe is written,
/// from its `from` to its `to`.
fn gate(network: &Network, node: usize, neighbour: usize, is_onward: bool) -> Gate {
    let it = &network.nodes[node];
    if it.kind.is_one_way() && !is_onward {
        return Gate::Never;
    }
    if it.kind == NodeKind::ThreeWay {
        let Some(ways) = it.ways else { return Gate::Never };
        let way = ways.iter().position(|way| *way == neighbour);
        return Gate::Passes(Some(way.map_or(Condition::Set(node), |way| Condition::Way(node, way))));
    }
    match (it.kind.can_be_shut(), it.fixed) {
        (true, true) if it.open => Gate::Passes(None),
        (true, true) => Gate::Never,
        (true, false) => Gate::Passes(Some(Condition::Open(node))),
        (false, _) => Gate::Passes(None),
    }
}

/// Whether it matters by which pipe flow comes to this stop: it must go on by another. At an end flow stops and starts
/// afresh; what passes one way comes in and goes out by different pipes anyhow; before the first stop and after the last
/// there is no leg.
pub(super) fn minds_pipes(network: &Network, stops: &[usize], at: usize) -> bool {
    let kind = network.nodes[stops[at]].kind;
    at > 0 && at + 1 < stops.len() && !kind.is_end() && !kind.is_one_way()
}
