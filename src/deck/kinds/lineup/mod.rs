//! `[[lineup]]`: set the valves so that every demand is met. Here the tables are read into a network with the place
//! of every part.

mod demands;
mod drawn;
mod judging;
mod nodes;
mod pipes;
mod places;

use std::collections::BTreeMap;

use serde_json::{Map, Value};

use self::places::Places;
use super::form::{self, ReadForm};
use super::kind::DeckKind;
use crate::deck::fields::{Context, Table};
use crate::deck::shape::{Field, Shape, keys, needed};
use crate::domain::answer::{Form, Given, LinedUp};
use crate::domain::form::Shape as FormShape;
use crate::domain::kinds::Body;
use crate::domain::piping::Network;

/// What only this kind holds.
const FIELDS: [Field; 3] = [
    needed("node", Shape::Tables(&nodes::FIELDS), "tanks, valves, pumps and what else there is"),
    needed("pipe", Shape::Tables(&pipes::FIELDS), "what joins them"),
    needed("demand", Shape::Tables(&demands::FIELDS), "what must flow and what must never"),
];
const KEYS: &[&str] = &keys(&FIELDS);

pub(crate) const KIND: DeckKind = DeckKind {
    word: "lineup",
    one: "a line-up card",
    chapter: 6,
    fields: &FIELDS,
    keys: KEYS,
    expects: &[],
    forms: FORMS,
    in_row: Err(
        "a line-up has valves and pipes, which no row can hold: write it in a file of the deck, as the manual (decks/FORMAT.md) shows it",
    ),
    form: &[("node", FormShape::Network)],
    read,
};

/// The forms in which it is answered.
const FORMS: &[ReadForm] = &[ReadForm { form: Form::LinedUp, keys: &["open", "ways"], read: lined_up }];

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

/// Either of `open` and `ways` may be left out: what is not named is shut.
fn lined_up(object: &Map<String, Value>) -> Result<Given, String> {
    let wrong = || "`ways` must name a way for each three-way valve, such as {\"tcv\": \"cooler\"}".to_owned();
    let open = if object.contains_key("open") { form::keys(object, "open")? } else { Vec::new() };
    let ways = match object.get("ways") {
        None => BTreeMap::new(),
        Some(Value::Object(ways)) => {
            let way = |(key, way): (&String, &Value)| Some((key.clone(), way.as_str()?.to_owned()));
            ways.iter().map(|entry| way(entry).ok_or_else(wrong)).collect::<Result<_, _>>()?
        }
        Some(_) => return Err(wrong()),
    };
    Ok(Given::LinedUp(LinedUp { open, ways }))
}
