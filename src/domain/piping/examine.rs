//! What a setting does: which demands it meets, by which paths, and what stands in the way of the others.

use super::TooComplex;
use super::arcs::arcs;
use super::mending::{Turn, mending};
use super::network::{Network, Setting, Want};
use super::reach::{Open, Path};

/// What a setting comes to.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Examined {
    /// One for each of the network's demands, in order.
    pub demands: Vec<DemandState>,
}

/// How a demand stands in a setting.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct DemandState {
    /// Whether the demand is met.
    pub met: bool,
    /// A flow that is met: its path, of fewest nodes, and of those the first in the order of the file.
    pub path: Option<Path>,
    /// A `never` that is broken: the path of the leak, chosen in the same way.
    pub leak: Option<Path>,
    /// A flow that is not met: the fewest nodes that would have to be turned for it, in the order of the file; empty
    /// where nothing would do it.
    pub blocked_by: Vec<usize>,
    /// A flow that is not met but could be: as far as it gets on the path that it would then take. The last node is
    /// the first of those that block it.
    pub reaches: Option<Path>,
}

/// Flow in a pipe, for drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Flood {
    /// The pipe, by position.
    pub pipe: usize,
    /// Whether flow goes as the pipe is written, from its `from` to its `to`.
    pub forward: bool,
    /// The demand that it belongs to, by position.
    pub demand: usize,
    /// How many pipes the flow has come through before this one: floods spread in this order.
    pub step: usize,
    /// What flow it is.
    pub sort: FloodSort,
}

/// What a flow in a pipe is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum FloodSort {
    /// Of a demand that is met.
    Met,
    /// Of a demand that is not met, as far as it gets.
    Blocked,
    /// Where nothing should flow.
    Leak,
}

/// Examines a setting. What is fixed stays as found, whatever the setting says of it.
///
/// # Errors
/// Where the network is so entangled that what blocks a flow cannot be told; never for a card that `check` passes.
pub fn examine(network: &Network, setting: &Setting) -> Result<Examined, TooComplex> {
    let arcs = arcs(network);
    let open = Open::new(network, &arcs, setting);
    let mut demands = Vec::with_capacity(network.demands.len());
    for demand in &network.demands {
        demands.push(match &demand.want {
            Want::Never([from, to]) => {
                let leak = open.path(&[*from, *to]);
                DemandState { met: leak.is_none(), leak, ..DemandState::default() }
            }
            Want::Flow(nodes) => match open.path(nodes) {
                Some(path) => DemandState { met: true, path: Some(path), ..DemandState::default() },
                None => {
                    let turns = mending(network, &arcs, setting, nodes)?.unwrap_or_default();
                    let turned = Open::new(network, &arcs, &turned(setting, &turns));
                    let blocked_by: Vec<usize> = turns.iter().map(|turn| turn.node).collect();
                    let is_blocked = |node: &usize| blocked_by.contains(node);
                    let reaches = turned
                        .path(nodes)
                        .and_then(|path| Some((path.nodes.iter().position(is_blocked)?, path)))
                        .map(|(place, path)| path.until(place));
                    DemandState { blocked_by, reaches, ..DemandState::default() }
                }
            },
        });
    }
    Ok(Examined { demands })
}

fn turned(setting: &Setting, turns: &[Turn]) -> Setting {
    let mut turned = setting.clone();
    for turn in turns {
        match turn.way {
            Some(way) => turned.way[turn.node] = Some(way),
            None => turned.open[turn.node] = true,
        }
    }
    turned
}

impl Examined {
    /// Every demand is met.
    pub fn works(&self) -> bool {
        self.demands.iter().all(|demand| demand.met)
    }

    /// Where there is flow, demand by demand and along each path. A pipe may stand in it more than once.
    pub fn floods(&self) -> Vec<Flood> {
        let mut floods = Vec::new();
        for (demand, state) in self.demands.iter().enumerate() {
            let paths =
                [(&state.path, FloodSort::Met), (&state.reaches, FloodSort::Blocked), (&state.leak, FloodSort::Leak)];
            for (path, sort) in paths.into_iter().filter_map(|(path, sort)| Some((path.as_ref()?, sort))) {
                floods.extend(path.pipes.iter().enumerate().map(|(step, stretch)| Flood {
                    pipe: stretch.pipe,
                    forward: stretch.forward,
                    demand,
                    step,
                    sort,
                }));
            }
        }
        floods
    }
}
