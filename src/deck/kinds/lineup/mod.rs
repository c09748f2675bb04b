//! `[[lineup]]`: set the valves so that every demand is met. Here the tables are read into a network with the place
//! of every part.

mod demands;
mod drawn;
mod judging;
mod nodes;
mod pipes;
mod places;

use self::places::Places;
use super::kind::DeckKind;
use crate::deck::fields::{Context, Table};
use crate::domain::kinds::Body;
use crate::domain::piping::Network;

const KEYS: &[&str] = &["node", "pipe", "demand"];
pub(crate) const KIND: DeckKind = DeckKind { word: "lineup", one: "a line-up card", chapter: 6, keys: KEYS, read };

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
