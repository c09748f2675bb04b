//! The bundled line-ups: every one works, in as many settings as a reference outside the program counts, with the same
//! valves needed open and needed shut; and is marked so.

use bedplate::deck::Severity;
use bedplate::domain::answer::{Answer, Given, LinedUp};
use bedplate::domain::card::Card;
use bedplate::domain::kinds::{Body, Kind};
use bedplate::domain::marking::mark;
use bedplate::domain::outcome::Outcome;
use bedplate::domain::piping::{Network, examine, prove};
use serde::Deserialize;

use crate::support::bundled;

#[derive(Deserialize)]
struct Table {
    lineup: Vec<Row>,
}

/// What the reference found of a line-up.
#[derive(Deserialize)]
struct Row {
    card: String,
    turnable: usize,
    settings: String,
    least: usize,
    needed_open: Vec<String>,
    needed_shut: Vec<String>,
    found: Vec<bool>,
}

fn lineups() -> Vec<Card> {
    bundled::of_kind(Kind::Lineup)
}

fn network(card: &Card) -> &Network {
    let Body::Lineup(network) = &card.body else { panic!("{}", card.key) };
    network
}

fn outcome(card: &Card, lined_up: LinedUp) -> Outcome {
    mark(card, &Answer::of(Given::LinedUp(lined_up))).expect("marked").outcome
}

#[test]
fn every_deck_that_comes_with_the_program_is_sound() {
    for id in bundled::ids() {
        let reading = bundled::reading(&id);
        let serious: Vec<_> = reading.problems.iter().filter(|p| p.severity != Severity::Advice).collect();
        assert!(serious.is_empty(), "{id}: {serious:?}");
        assert_eq!(bundled::deck(&id).id.0, id, "a deck's folder has the name of its id");
    }
}

#[test]
fn every_bundled_lineup_is_what_the_reference_found() {
    let table: Table = toml::from_str(include_str!("../../reference/lineups.toml")).expect("a table");
    let cards = lineups();
    assert!(cards.len() >= 14);
    assert_eq!(cards.len(), table.lineup.len());
    for row in table.lineup {
        let card = cards.iter().find(|c| c.key.to_string() == row.card).unwrap_or_else(|| panic!("{}", row.card));
        let network = network(card);
        let proof = prove(network).expect("simple enough");
        let keys = |nodes: &[usize]| nodes.iter().map(|n| network.nodes[*n].key.clone()).collect::<Vec<_>>();
        assert!(proof.works, "{}", row.card);
        assert_eq!(network.turnable().len(), row.turnable, "{}", row.card);
        assert_eq!(proof.settings.expect("counted").to_string(), row.settings, "{}", row.card);
        assert_eq!(keys(&proof.needed_open), row.needed_open, "{}", row.card);
        assert_eq!(keys(&proof.needed_shut), row.needed_shut, "{}", row.card);
        let least = network.named_setting(&proof.least_open.expect("one"));
        assert_eq!(least.open.len(), row.least, "{}", row.card);
        let found = examine(network, &network.as_found()).expect("simple enough");
        assert_eq!(found.demands.iter().map(|d| d.met).collect::<Vec<_>>(), row.found, "{}", row.card);
        assert!(row.found.contains(&false), "{} works as found", row.card);
    }
}

#[test]
fn one_valve_wrong_is_never_answered() {
    for card in lineups() {
        let network = network(&card);
        let proof = prove(network).expect("simple enough");
        let least = network.named_setting(&proof.least_open.expect("one"));
        assert_eq!(outcome(&card, least.clone()), Outcome::Answered, "{}", card.key);
        for node in proof.needed_open {
            let mut without = least.clone();
            without.open.retain(|key| *key != network.nodes[node].key);
            assert!(outcome(&card, without) < Outcome::Answered, "{}: {}", card.key, network.nodes[node].key);
        }
        // What may not stand open makes something flow that must not, and that is missed whatever else is right.
        for node in proof.needed_shut {
            let mut with = least.clone();
            with.open.push(network.nodes[node].key.clone());
            assert_eq!(outcome(&card, with), Outcome::Missed, "{}: {}", card.key, network.nodes[node].key);
        }
    }
}
