//! What stands in the way of a flow: the fewest nodes that would have to be turned for it.

use super::TooComplex;
use super::arcs::{Arc, Condition};
use super::chart::Price;
use super::diagram::{ALWAYS, Diagram, Function, NEVER};
use super::joined::{Reading, joined};
use super::network::{Network, NodeKind, Setting};

/// A node to be turned: opened, or a three-way valve set to a way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Turn {
    pub(super) node: usize,
    /// For a three-way valve, the way.
    pub(super) way: Option<usize>,
}

/// The fewest turns after which flow can go through all of these nodes in this order, in the order of the file;
/// none where no turning does it. Of several such, the one whose nodes come first in the file.
pub(super) fn mending(
    network: &Network,
    arcs: &[Arc],
    setting: &Setting,
    nodes: &[usize],
) -> Result<Option<Vec<Turn>>, TooComplex> {
    let reading = ToTurn::new(network, setting);
    let mut diagram = Diagram::new(reading.turns.len());
    let mut flows = joined(network, arcs, &mut diagram, &reading, nodes)?;
    for node in (0..network.nodes.len()).filter(|node| network.nodes[*node].kind == NodeKind::ThreeWay) {
        let ways = [Condition::Way(node, 0), Condition::Way(node, 1)];
        let [first, second] = [reading.holds(&mut diagram, ways[0])?, reading.holds(&mut diagram, ways[1])?];
        let both = diagram.and(first, second)?;
        let not_both = diagram.not(both)?;
        flows = diagram.and(flows, not_both)?;
    }
    Ok(fewest(&diagram, flows, &reading))
}

/// The cheapest way to make the function true; its turns in the order of the file.
fn fewest(diagram: &Diagram, flows: Function, reading: &ToTurn) -> Option<Vec<Turn>> {
    let price = |variable: &Variable| if variable.is_standing { Price::FREE } else { Price::OF_YES };
    let mut prices: Vec<Price> = reading.turns.iter().map(price).collect();
    let mut by_file: Vec<usize> = (0..reading.turns.len()).filter(|v| !reading.turns[*v].is_standing).collect();
    by_file.sort_unstable_by_key(|variable| (reading.turns[*variable].turn.node, reading.turns[*variable].turn.way));
    let chosen = diagram.chart(flows).cheapest(&mut prices, &by_file)?;
    Some(chosen.into_iter().map(|variable| reading.turns[variable].turn).collect())
}

/// Variables for what is to be turned: one for each valve that is shut, and one for each way of a three-way valve,
/// which may be on neither.
struct ToTurn {
    turns: Vec<Variable>,
    /// For each node, its first variable.
    first: Vec<Option<usize>>,
}

struct Variable {
    turn: Turn,
    /// Stands so already.
    is_standing: bool,
}

impl ToTurn {
    fn new(network: &Network, setting: &Setting) -> Self {
        let mut made = Self { turns: Vec::new(), first: vec![None; network.nodes.len()] };
        for node in network.in_order_of_flow() {
            if network.nodes[node].kind == NodeKind::ThreeWay {
                made.first[node] = Some(made.turns.len());
                for way in [0, 1] {
                    let is_standing = setting.way[node] == Some(way);
                    made.turns.push(Variable { turn: Turn { node, way: Some(way) }, is_standing });
                }
            } else if network.nodes[node].can_be_turned() && !setting.open[node] {
                made.first[node] = Some(made.turns.len());
                made.turns.push(Variable { turn: Turn { node, way: None }, is_standing: false });
            }
        }
        made
    }
}

impl Reading for ToTurn {
    fn holds(&self, diagram: &mut Diagram, condition: Condition) -> Result<Function, TooComplex> {
        match condition {
            Condition::Open(node) => match self.first[node] {
                Some(variable) => diagram.literal(variable, true),
                // What stands open is left open: shutting it helps no flow.
                None => Ok(ALWAYS),
            },
            Condition::Way(node, way) => match self.first[node] {
                Some(first) => diagram.literal(first + way, true),
                None => Ok(NEVER),
            },
            Condition::Set(node) => {
                let first = self.holds(diagram, Condition::Way(node, 0))?;
                let second = self.holds(diagram, Condition::Way(node, 1))?;
                diagram.or(first, second)
            }
        }
    }
}
