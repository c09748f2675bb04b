//! The bundled sequences: every one works in more than one order, and in as many as a reference outside the program
//! counts.

use bedplate::domain::answer::{Answer, Given};
use bedplate::domain::card::Card;
use bedplate::domain::kinds::{Body, Kind};
use bedplate::domain::marking::mark;
use bedplate::domain::outcome::Outcome;
use bedplate::domain::plant::{explain, prove, run};
use serde::Deserialize;

#[derive(Deserialize)]
struct Table {
    sequence: Vec<Row>,
}

#[derive(Deserialize)]
struct Row {
    card: String,
    right_steps: usize,
    traps: usize,
    orders: String,
}

fn sequences() -> Vec<Card> {
    crate::support::bundled::of_kind(Kind::Sequence)
}

#[test]
fn every_bundled_sequence_works_in_as_many_orders_as_the_reference_counts() {
    let table: Table = toml::from_str(include_str!("../../reference/plant_decks.toml")).expect("a table");
    let cards = sequences();
    assert!(cards.len() >= 16);
    assert_eq!(cards.len(), table.sequence.len());
    for row in table.sequence {
        let card = cards.iter().find(|c| c.key.to_string() == row.card).unwrap_or_else(|| panic!("{}", row.card));
        let Body::Sequence(procedure) = &card.body else { panic!("{}", row.card) };
        let proof = prove(procedure).expect("simple enough");
        assert!(proof.works);
        assert_eq!(proof.needed.len() + proof.optional.len(), row.right_steps, "{}", row.card);
        assert_eq!((proof.traps.len(), proof.traps.len() >= 2), (row.traps, true), "{}", row.card);
        let orders = proof.orders.expect("counted");
        assert_eq!(orders.to_string(), row.orders, "{}", row.card);
        assert!(orders > 1 || procedure.strict, "{}", row.card);
    }
}

#[test]
fn a_working_order_is_answered_and_a_trap_is_told() {
    for card in sequences() {
        let Body::Sequence(procedure) = &card.body else { continue };
        let one = prove(procedure).expect("simple enough").one.expect("an order");
        let keys = |steps: &[usize]| steps.iter().map(|s| procedure.steps[*s].key.clone()).collect::<Vec<_>>();
        let right = mark(&card, &Answer::of(Given::Steps(keys(&one)))).expect("marked");
        assert_eq!(right.outcome, Outcome::Answered, "{}: {}", card.key, right.reason);
        let mut turned = one.clone();
        turned.reverse();
        let wrong = mark(&card, &Answer::of(Given::Steps(keys(&turned)))).expect("marked");
        assert_eq!(wrong.outcome, Outcome::Missed, "{}", card.key);
        for trap in procedure.traps() {
            let mut with = keys(&one);
            with.insert(1, procedure.steps[trap].key.clone());
            let trapped = mark(&card, &Answer::of(Given::Steps(with))).expect("marked");
            assert!(trapped.outcome <= Outcome::Prompted, "{}: {}", card.key, procedure.steps[trap].key);
        }
    }
}

#[test]
fn most_runs_that_work_leave_something_to_explain() {
    let cards = sequences();
    let asked = cards.iter().filter(|card| {
        let Body::Sequence(procedure) = &card.body else { return false };
        let one = prove(procedure).expect("simple enough").one.expect("an order");
        explain(procedure, &run(procedure, &one)).is_some_and(|question| {
            assert!(question.why.links.iter().all(|link| !question.why.false_links.contains(link)), "{}", card.key);
            question.why.links.len() >= 3
        })
    });
    let asked = asked.count();
    assert!(asked * 3 >= cards.len() * 2, "{asked} of {}", cards.len());
}
