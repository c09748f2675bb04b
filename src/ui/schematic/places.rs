//! The place of each node on the grid: as the deck gives it, or beside what it is tied to.

use std::collections::HashSet;

use crate::domain::piping::Network;

/// Column and row of each node, no two at the same place.
///
/// What the deck gives no place stands one column on from the first node that is tied to it and has one, in the
/// nearest row that is free; where nothing has a place, the first node stands at the origin.
pub(super) fn places(network: &Network) -> Vec<[i32; 2]> {
    let mut taken: HashSet<[i32; 2]> = HashSet::new();
    let mut at: Vec<Option<[i32; 2]>> = network
        .nodes
        .iter()
        .map(|node| node.at.map(|at| at.map(|n| n.clamp(-MOST, MOST))).filter(|at| taken.insert(*at)))
        .collect();
    while let Some(first) = at.iter().position(Option::is_none) {
        let tied = network.pipes.iter().find_map(|pipe| match (at[pipe.from], at[pipe.to]) {
            (Some([x, y]), None) => Some((pipe.to, [x + 1, y])),
            (None, Some([x, y])) => Some((pipe.from, [x - 1, y])),
            _ => None,
        });
        let below = taken.iter().map(|at| at[1]).max().map_or(0, |row| row + 1);
        let (node, [x, y]) = tied.unwrap_or((first, [0, below]));
        let free = (0..).flat_map(|n| [y + n, y - n]).find(|row| !taken.contains(&[x, *row])).unwrap_or(y);
        taken.insert([x, free]);
        at[node] = Some([x, free]);
    }
    at.into_iter().flatten().collect()
}

/// Farther from the origin no deck may place anything.
const MOST: i32 = 10_000;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::piping::{Node, NodeKind, Pipe};

    fn network(at: &[Option<[i32; 2]>], pipes: &[(usize, usize)]) -> Network {
        let node = |at: &Option<[i32; 2]>| Node {
            key: String::new(),
            kind: NodeKind::Valve,
            name: String::new(),
            at: *at,
            medium: None,
            open: false,
            fixed: false,
            ways: None,
        };
        Network {
            nodes: at.iter().map(node).collect(),
            pipes: pipes.iter().map(|(from, to)| Pipe { from: *from, to: *to, via: vec![] }).collect(),
            demands: vec![],
        }
    }

    #[test]
    fn what_has_a_place_keeps_it() {
        let at = [Some([1, 1]), Some([3, 1])];
        assert_eq!(places(&network(&at, &[(0, 1)])), [[1, 1], [3, 1]]);
    }

    #[test]
    fn what_has_none_stands_beside_what_it_is_tied_to() {
        let at = [Some([1, 1]), None, None, None];
        assert_eq!(places(&network(&at, &[(0, 1), (0, 2), (3, 0)])), [[1, 1], [2, 1], [2, 2], [0, 1]]);
    }

    #[test]
    fn no_two_stand_at_one_place() {
        let at = [Some([1, 1]), Some([1, 1]), None, None];
        let found = places(&network(&at, &[]));
        let apart: HashSet<[i32; 2]> = found.iter().copied().collect();
        assert_eq!((found.len(), apart.len()), (4, 4), "{found:?}");
    }

    #[test]
    fn places_far_out_are_brought_in() {
        let at = [Some([i32::MAX, i32::MIN]), None];
        assert_eq!(places(&network(&at, &[(0, 1)]))[1], [MOST + 1, -MOST]);
    }
}
