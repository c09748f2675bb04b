//! `[[lineup]]`: set the valves so that every demand is met. Here the tables are read into a network with the place
//! of every part.

mod demands;
mod drawn;
mod judging;
mod nodes;
mod pipes;

use super::kind::DeckKind;
use crate::deck::checks::{bad_place, unknown_node};
use crate::deck::fields::{Context, Table, Text};
use crate::deck::problem::Site;
use crate::domain::card::Body;
use crate::domain::piping::Network;

const KEYS: &[&str] = &["node", "pipe", "demand"];
/// Columns and rows lie between this and its negative.
const MOST_GRID: i64 = 1_000;

pub(crate) const KIND: DeckKind = DeckKind { word: "lineup", one: "a line-up card", keys: KEYS, read };

fn read(context: &mut Context<'_>, card: Table<'_, '_>) -> Option<Body> {
    let errors_before = context.problems.errors();
    let mut network = Network::default();
    let mut places = Places { card: card.site, ..Places::default() };
    let names = nodes::read(context, card, &mut network, &mut places);
    pipes::read(context, card, &names, &mut network, &mut places);
    nodes::check_ways(context, &network, &places);
    demands::read(context, card, &names, &mut network, &mut places);
    if context.problems.errors() > errors_before {
        // What follows from a fault that has been told is not told as well.
        return None;
    }
    if demands::dead_ends(context, &network, &places) {
        return None;
    }
    drawn::judge(context, &network, &places);
    judging::judge(context, &network, &places);
    Some(Body::Lineup(network))
}

/// Where the parts of a network stand in the file.
#[derive(Default)]
struct Places {
    card: Site,
    nodes: Vec<NodePlaces>,
    pipes: Vec<Site>,
    demands: Vec<DemandPlaces>,
}

/// Where a demand stands, and each node that it names.
struct DemandPlaces {
    demand: Site,
    stops: Vec<Site>,
}

/// Where the parts of a node stand.
struct NodePlaces {
    node: Site,
    /// The list of a three-way valve's ways, and each of them with its site.
    ways: Option<(Site, Vec<(usize, Site)>)>,
}

/// The nodes, by key.
struct Names<'t> {
    keys: Vec<&'t str>,
    /// Some could not be read, so that nothing can be said of one that is not there.
    is_lacking: bool,
}

impl Names<'_> {
    /// The node of this key; reported where there is none.
    fn number(&self, context: &mut Context<'_>, key: Text<'_>) -> Option<usize> {
        let number = self.keys.iter().position(|known| *known == key.value);
        if number.is_none() && !self.is_lacking {
            let keys = self.keys.iter().copied().filter(|key| !key.is_empty());
            context.report(unknown_node::found(key.site, key.value, keys));
        }
        number
    }
}

/// A place on the grid; reported where it lies outside.
fn on_grid(context: &mut Context<'_>, key: &str, place: ([i64; 2], Site)) -> Option<[i32; 2]> {
    let ([column, row], site) = place;
    let part = |part: i64| i32::try_from(part).ok().filter(|_| part.abs() <= MOST_GRID);
    let place = part(column).zip(part(row));
    if place.is_none() {
        context.report(bad_place::found(site, key));
    }
    place.map(|(column, row)| [column, row])
}
