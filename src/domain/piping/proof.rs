//! What is known of a line-up before anyone has answered: does any setting meet every demand, how many do, which
//! opens least, and what stands alike in all of them.

use super::TooComplex;
use super::arcs::{Condition, arcs};
use super::chart::{Chart, Price};
use super::diagram::{ALWAYS, Diagram, Function, NEVER};
use super::joined::{Reading, joined};
use super::network::{Network, NodeKind, Setting, Want};

/// Settings are counted where there are this many nodes that can be turned, or fewer.
pub const MOST_COUNTED: usize = 20;

/// The diagram of a network may have this many tests.
const MOST_TESTS: usize = 2_000_000;

/// What is known of a network. Nodes are meant by position and stand in the order of the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Proof {
    /// Some setting meets every demand.
    pub works: bool,
    /// How many settings do, each node that can be turned open or shut, each three-way valve on one of its ways; none
    /// where there are more than [`MOST_COUNTED`] such nodes.
    pub settings: Option<u64>,
    /// One of them with the fewest open: the one whose open nodes come first in the file, and with it the first ways.
    pub least_open: Option<Setting>,
    /// Nodes that can be shut and stand open in every one of them.
    pub needed_open: Vec<usize>,
    /// Nodes that can be shut and stand shut in every one of them.
    pub needed_shut: Vec<usize>,
}

/// Proves a network.
///
/// # Errors
/// Where the network is so entangled that its settings cannot be judged.
pub fn prove(network: &Network) -> Result<Proof, TooComplex> {
    Ok(Whole::new(network)?.proof(network))
}

/// What the writer of a network should be told.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Findings {
    /// Where no setting meets every demand: demands that no setting meets together, none of which could be left out
    /// of that. Otherwise empty.
    pub at_odds: Vec<usize>,
    /// Demands that every setting meets.
    pub always_met: Vec<usize>,
    /// Nodes that can be turned and on which no demand depends.
    pub idle: Vec<usize>,
}

/// Finds what the writer of a network should be told.
///
/// # Errors
/// Where the network is so entangled that its settings cannot be judged.
pub fn survey(network: &Network) -> Result<Findings, TooComplex> {
    Whole::new(network)?.findings(network)
}

/// All settings of a network at once.
struct Whole {
    variables: Variables,
    diagram: Diagram,
    /// When each demand is met.
    met: Vec<Function>,
    /// When all are.
    all: Function,
}

impl Whole {
    fn new(network: &Network) -> Result<Self, TooComplex> {
        let arcs = arcs(network);
        let variables = Variables::new(network);
        let mut diagram = Diagram::new(MOST_TESTS);
        let mut met = Vec::with_capacity(network.demands.len());
        let mut all = ALWAYS;
        for demand in &network.demands {
            let one = match &demand.want {
                Want::Flow(nodes) => joined(network, &arcs, &mut diagram, &variables, nodes)?,
                Want::Never(nodes) => {
                    let flows = joined(network, &arcs, &mut diagram, &variables, nodes)?;
                    diagram.not(flows)?
                }
            };
            all = diagram.and(all, one)?;
            met.push(one);
        }
        Ok(Self { variables, diagram, met, all })
    }

    fn proof(&self, network: &Network) -> Proof {
        let chart = self.diagram.chart(self.all);
        let nodes = &self.variables.nodes;
        let works = !chart.is_never();
        let count = || u64::try_from(chart.count(nodes.len())).ok();
        Proof {
            works,
            settings: if nodes.len() <= MOST_COUNTED { count() } else { None },
            least_open: self.least_open(network, &chart),
            needed_open: if works { self.needed(network, &chart, Price::MUST_NOT) } else { Vec::new() },
            needed_shut: if works { self.needed(network, &chart, Price::MUST) } else { Vec::new() },
        }
    }

    fn findings(&mut self, network: &Network) -> Result<Findings, TooComplex> {
        let variables = self.variables.nodes.len();
        let mut is_used = vec![false; variables];
        for met in &self.met {
            for (is_used, depends) in is_used.iter_mut().zip(self.diagram.chart(*met).depends_on(variables)) {
                *is_used |= depends;
            }
        }
        let is_idle = |node: &usize| self.variables.of[*node].is_some_and(|variable| !is_used[variable]);
        Ok(Findings {
            idle: network.turnable().into_iter().filter(is_idle).collect(),
            always_met: (0..self.met.len()).filter(|at| self.met[*at] == ALWAYS).collect(),
            at_odds: if self.all == NEVER { self.at_odds()? } else { Vec::new() },
        })
    }

    /// Demands that cannot be met together, with none that could be left out of it: each in turn is taken out, and
    /// put back where the others can be met without it.
    fn at_odds(&mut self) -> Result<Vec<usize>, TooComplex> {
        let mut kept: Vec<usize> = (0..self.met.len()).collect();
        for out in (0..self.met.len()).rev() {
            let mut others = ALWAYS;
            for at in kept.iter().filter(|at| **at != out) {
                others = self.diagram.and(others, self.met[*at])?;
            }
            if others == NEVER {
                kept.retain(|at| *at != out);
            }
        }
        Ok(kept)
    }

    /// The shut-offs that can be turned, in the order of the file, without a way to make it true at this price.
    fn needed(&self, network: &Network, chart: &Chart, price: Price) -> Vec<usize> {
        let depends = chart.depends_on(self.variables.nodes.len());
        let mut prices = vec![Price::FREE; self.variables.nodes.len()];
        let mut needed = Vec::new();
        for node in network.turnable().into_iter().filter(|node| network.nodes[*node].kind.can_be_shut()) {
            let Some(variable) = self.variables.of[node].filter(|variable| depends[*variable]) else { continue };
            prices[variable] = price;
            if chart.least(&prices).is_none() {
                needed.push(node);
            }
            prices[variable] = Price::FREE;
        }
        needed
    }

    fn least_open(&self, network: &Network, chart: &Chart) -> Option<Setting> {
        let nodes = &self.variables.nodes;
        let is_three_way = |variable: &usize| network.nodes[nodes[*variable]].kind == NodeKind::ThreeWay;
        let price = |variable: usize| if is_three_way(&variable) { Price::FREE } else { Price::OF_YES };
        let mut prices: Vec<Price> = (0..nodes.len()).map(price).collect();
        let mut by_file: Vec<usize> = (0..nodes.len()).collect();
        by_file.sort_unstable_by_key(|variable| nodes[*variable]);
        let (three_ways, valves): (Vec<usize>, Vec<usize>) = by_file.into_iter().partition(is_three_way);
        let open = chart.cheapest(&mut prices, &valves)?;
        let mut setting = network.all_shut();
        for variable in open {
            setting.open[nodes[variable]] = true;
        }
        for variable in three_ways {
            prices[variable] = Price::MUST;
            let first = chart.least(&prices).is_some();
            if !first {
                prices[variable] = Price::MUST_NOT;
            }
            setting.way[nodes[variable]] = Some(usize::from(!first));
        }
        Some(setting)
    }
}

/// One variable for each node that can be turned: it is open, or on the first of its ways.
struct Variables {
    /// The node of each variable.
    nodes: Vec<usize>,
    /// The variable of each node.
    of: Vec<Option<usize>>,
}

impl Variables {
    fn new(network: &Network) -> Self {
        let in_order = network.in_order_of_flow().into_iter();
        let nodes: Vec<usize> = in_order.filter(|node| network.nodes[*node].can_be_turned()).collect();
        let mut of = vec![None; network.nodes.len()];
        for (variable, node) in nodes.iter().enumerate() {
            of[*node] = Some(variable);
        }
        Self { nodes, of }
    }
}

impl Reading for Variables {
    fn holds(&self, diagram: &mut Diagram, condition: Condition) -> Result<Function, TooComplex> {
        let (node, value) = match condition {
            Condition::Open(node) => (node, true),
            Condition::Way(node, way) => (node, way == 0),
            Condition::Set(_) => return Ok(ALWAYS),
        };
        self.of[node].map_or(Ok(NEVER), |variable| diagram.literal(variable, value))
    }
}
