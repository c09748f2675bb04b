//! What is in each pipe: the media that nodes name, carried on along the pipes.

use super::network::{Medium, Network};

/// What is in each node and in each pipe, as far as anything says so.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Media {
    /// One for each node.
    pub nodes: Vec<Option<Medium>>,
    /// One for each pipe.
    pub pipes: Vec<Option<Medium>>,
}

/// Carries the media that nodes name along the pipes.
///
/// A medium goes on with the pipes (from `from` to `to`) until another one is named, the nearest first, whether valves
/// are open or shut; what is not reached so takes it from its neighbours on either side. A pipe between two media has
/// the one that it comes from.
pub fn media(network: &Network) -> Media {
    let mut nodes: Vec<Option<Medium>> = network.nodes.iter().map(|node| node.medium).collect();
    for with_the_pipes in [true, false] {
        let mut wave: Vec<usize> = (0..nodes.len()).filter(|node| nodes[*node].is_some()).collect();
        while !wave.is_empty() {
            let mut next = Vec::new();
            for pipe in &network.pipes {
                let ends = [(pipe.from, pipe.to), (pipe.to, pipe.from)];
                for (near, far) in ends.into_iter().take(if with_the_pipes { 1 } else { 2 }) {
                    if wave.contains(&near) && nodes[far].is_none() && !next.contains(&(far, nodes[near])) {
                        next.push((far, nodes[near]));
                    }
                }
            }
            // A node that two waves reach at once keeps the first in the order of the file.
            wave = Vec::new();
            for (node, medium) in next {
                if nodes[node].is_none() {
                    nodes[node] = medium;
                    wave.push(node);
                }
            }
        }
    }
    let pipes = network.pipes.iter().map(|pipe| nodes[pipe.from].or(nodes[pipe.to])).collect();
    Media { nodes, pipes }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::piping::{Node, NodeKind, Pipe};

    fn network(nodes: &[(&str, Option<Medium>)], pipes: &[(usize, usize)]) -> Network {
        let node = |(key, medium): &(&str, Option<Medium>)| Node {
            key: (*key).to_owned(),
            kind: NodeKind::Valve,
            name: String::new(),
            at: None,
            medium: *medium,
            open: false,
            fixed: false,
            ways: None,
        };
        Network {
            nodes: nodes.iter().map(node).collect(),
            pipes: pipes.iter().map(|(from, to)| Pipe { from: *from, to: *to, via: vec![] }).collect(),
            demands: vec![],
        }
    }

    #[test]
    fn a_medium_goes_with_the_pipes_and_only_then_against_them() {
        let (sea, bilge) = (Some(Medium::SeaWater), Some(Medium::BilgeWater));
        // Sea chest and bilge well meet at the pump; an overboard that names nothing; a vent that flows in.
        let found = media(&network(
            &[("chest", sea), ("pump", None), ("overboard", None), ("well", bilge), ("valve", None), ("vent", None)],
            &[(0, 1), (1, 2), (3, 4), (4, 1), (5, 2)],
        ));
        assert_eq!(found.pipes, [sea, sea, bilge, bilge, sea]);
        assert_eq!(found.nodes[5], sea, "nothing flows to it: it takes what its neighbour has");
    }

    #[test]
    fn where_nothing_is_named_nothing_is_said() {
        let found = media(&network(&[("a", None), ("b", None)], &[(0, 1)]));
        assert_eq!((found.nodes, found.pipes), (vec![None, None], vec![None]));
    }

    #[test]
    fn what_a_node_names_itself_stands_against_what_comes() {
        let (fresh, steam) = (Some(Medium::FreshWater), Some(Medium::Steam));
        let found = media(&network(&[("tank", fresh), ("boiler", steam), ("user", None)], &[(0, 1), (1, 2)]));
        assert_eq!(found.pipes, [fresh, steam]);
    }
}
