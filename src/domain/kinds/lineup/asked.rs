//! What a line-up asks, in lines: nodes by their names. Where a symbol stands on the sheet, and round which corners its
//! pipes go, is none of it.

use crate::domain::editions::{Line, Part, What, folded, names};
use crate::domain::piping::{Network, Pipe, Want};

/// What a network asks.
pub(super) fn asked(network: &Network) -> Vec<Part> {
    let called = names(network.nodes.iter().map(|node| (node.key.as_str(), node.name.as_str())));
    let name = |node: usize| called.get(node).map_or("", String::as_str);
    let nodes = network.nodes.iter().zip(&called).map(|(node, name)| {
        let mut line = vec![name.clone(), node.kind.word().to_owned()];
        line.extend(node.medium.map(|medium| medium.word().to_owned()));
        if node.kind.can_be_shut() {
            line.push(if node.open { "found open" } else { "found shut" }.to_owned());
        }
        if node.fixed {
            line.push("fixed".to_owned());
        }
        if let Some(ways) = node.ways {
            let mut ways = ways.map(|way| called.get(way).map_or("", String::as_str));
            ways.sort_unstable();
            line.push(format!("to {} or to {}", ways[0], ways[1]));
        }
        Line::new(&line.join(", "))
    });
    let is_one_way = |node: usize| network.nodes.get(node).is_some_and(|node| node.kind.is_one_way());
    let pipes = network.pipes.iter().map(|Pipe { from, to, .. }| {
        let mut ends = [name(*from), name(*to)];
        let (word, minds) = if is_one_way(*from) || is_one_way(*to) { ("to", true) } else { ("and", false) };
        if !minds {
            ends.sort_unstable();
        }
        Line::new(&format!("{} {word} {}", ends[0], ends[1]))
    });
    let demands = network.demands.iter().map(|demand| {
        let (what, critical) = match &demand.want {
            Want::Flow(stops) => (stops.iter().map(|stop| name(*stop)).collect::<Vec<_>>().join(" to "), false),
            Want::Never([from, to]) => (format!("never {} to {}", name(*from), name(*to)), true),
        };
        Line::new(&format!("{}: {what}", folded(&demand.name))).critical(critical)
    });
    vec![
        Part::any_order(What::Demands, demands),
        Part::any_order(What::Nodes, nodes),
        Part::any_order(What::Pipes, pipes),
    ]
}
