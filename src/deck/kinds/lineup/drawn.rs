//! Whether a line-up can be drawn so that it is read as it is meant: on the grid of the deck, before anything is
//! stretched to fit a sheet.

use std::collections::HashMap;

use super::places::Places;
use crate::deck::checks;
use crate::deck::fields::Context;
use crate::domain::piping::{Network, Pipe};

/// A name may be this many characters wide for each column to the next symbol; it is broken into two lines.
const CHARS_PER_COLUMN: usize = 14;

/// Column and row.
type Place = [i32; 2];

/// Looks at how the parts stand on the grid, and how they are tied.
pub(super) fn judge(context: &mut Context<'_>, network: &Network, places: &Places) {
    ties(context, network, places);
    let mut standing: HashMap<Place, usize> = HashMap::new();
    for (at, node) in network.nodes.iter().enumerate() {
        let Some(place) = node.at else { continue };
        if let Some(other) = standing.get(&place) {
            context.report(checks::lineup::same_place(places.nodes[at].node, &node.key, &network.nodes[*other].key));
        } else {
            standing.insert(place, at);
        }
    }
    for (at, pipe) in network.pipes.iter().enumerate() {
        if let Some(over) = runs_over(network, pipe) {
            context.report(checks::lineup::pipe_over_symbol(places.pipes[at], &network.nodes[over].key));
        }
    }
    names(context, network, places);
}

fn ties(context: &mut Context<'_>, network: &Network, places: &Places) {
    for (at, node) in network.nodes.iter().enumerate() {
        let site = places.nodes[at].node;
        match tied(network, at) {
            Tied::Well => {}
            Tied::Nowhere => context.report(checks::lineup::lone_node(site, &node.key)),
            Tied::OnOneSide { leaves } => context.report(checks::lineup::one_sided(site, &node.key, node.kind, leaves)),
        }
    }
}

/// How pipes are tied to a node.
#[derive(PartialEq)]
pub(super) enum Tied {
    Well,
    Nowhere,
    /// Passes one way, and pipes only leave it, or only come to it.
    OnOneSide {
        leaves: bool,
    },
}

/// How pipes are tied to this node.
pub(super) fn tied(network: &Network, at: usize) -> Tied {
    let comes = network.pipes.iter().any(|pipe| pipe.to == at);
    let leaves = network.pipes.iter().any(|pipe| pipe.from == at);
    match (comes, leaves) {
        (false, false) => Tied::Nowhere,
        _ if network.nodes[at].kind.is_one_way() && comes != leaves => Tied::OnOneSide { leaves },
        _ => Tied::Well,
    }
}

/// A node that the pipe cannot but run over: the first that it comes to. Where it leads neither along a row nor along
/// a column it is drawn with a corner, and it will do if either corner is free.
fn runs_over(network: &Network, pipe: &Pipe) -> Option<usize> {
    let ends = [network.nodes[pipe.from].at?, network.nodes[pipe.to].at?];
    let stops: Vec<Place> = [ends[0]].into_iter().chain(pipe.via.iter().copied()).chain([ends[1]]).collect();
    let last = stops.len() - 2;
    stops.windows(2).enumerate().find_map(|(at, part)| {
        // It begins and ends at its own nodes; where it comes by them again it runs over them too.
        let own = [(at == 0).then_some(part[0]), (at == last).then_some(part[1])];
        let on = |from: Place, to: Place| {
            let is_on = |place: Place| !own.contains(&Some(place)) && lies_on(place, from, to);
            network.nodes.iter().position(|node| node.at.is_some_and(is_on))
        };
        match corners(part[0], part[1]) {
            None => on(part[0], part[1]),
            Some(corners) => {
                let [one, other] = corners.map(|corner| on(part[0], corner).or_else(|| on(corner, part[1])));
                other.and(one)
            }
        }
    })
}

/// The two corners by which one can go between places that share neither row nor column.
fn corners(from: Place, to: Place) -> Option<[Place; 2]> {
    (from[0] != to[0] && from[1] != to[1]).then_some([[to[0], from[1]], [from[0], to[1]]])
}

/// Whether a place lies on a straight part of a pipe, its ends included.
fn lies_on(place: Place, from: Place, to: Place) -> bool {
    (0..2).all(|axis| (from[axis].min(to[axis])..=from[axis].max(to[axis])).contains(&place[axis]))
}

/// Names of neighbours in one row.
fn names(context: &mut Context<'_>, network: &Network, places: &Places) {
    let mut rows: HashMap<i32, Vec<(i32, usize)>> = HashMap::new();
    for (at, node) in network.nodes.iter().enumerate() {
        if let Some([column, row]) = node.at {
            rows.entry(row).or_default().push((column, at));
        }
    }
    for row in rows.values_mut() {
        row.sort_unstable();
        for pair in row.windows(2) {
            let [(column, one), (next, other)] = [pair[0], pair[1]];
            let width = wide(&network.nodes[one].name) + wide(&network.nodes[other].name);
            let room = usize::try_from(next - column).unwrap_or(0) * CHARS_PER_COLUMN;
            if next > column && width > 2 * room {
                let (late, early) = (one.max(other), one.min(other));
                let key = |at: usize| network.nodes[at].key.as_str();
                context.report(checks::lineup::names_overlap(places.nodes[late].node, key(late), key(early)));
            }
        }
    }
}

/// How many characters wide a name is when it is broken into two lines.
fn wide(name: &str) -> usize {
    let length = name.chars().count();
    let longest = name.split_whitespace().map(|word| word.chars().count()).max().unwrap_or(0);
    longest.max(length.div_ceil(2))
}
