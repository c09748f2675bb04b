//! The bundled sequences hold the orders that rules and good practice demand: a list that turns one round is no full
//! answer.

use bedplate::domain::answer::{Answer, Given};
use bedplate::domain::card::Card;
use bedplate::domain::kinds::{Body, Kind};
use bedplate::domain::marking::mark;
use bedplate::domain::outcome::Outcome;
use bedplate::domain::plant::{prove, run};
use serde::Deserialize;

#[derive(Deserialize)]
struct Table {
    order: Vec<Row>,
}

#[derive(Deserialize)]
struct Row {
    card: String,
    first: String,
    then: String,
    source: String,
    confirmed: String,
}

fn answer_of(card: &Card, steps: &[String]) -> Outcome {
    mark(card, &Answer::of(Given::Steps(steps.to_vec()))).expect("a sequence takes steps").outcome
}

#[test]
fn a_list_against_a_demanded_order_is_no_full_answer() {
    let table: Table = toml::from_str(include_str!("../../reference/procedures.toml")).expect("a table");
    assert!(table.order.len() >= 30);
    let cards = crate::support::bundled::of_kind(Kind::Sequence);
    for row in &table.order {
        let what = format!("{}: {} before {}, {}", row.card, row.first, row.then, row.source);
        assert!(!row.source.is_empty() && !row.confirmed.is_empty(), "{what}");
        let card = cards.iter().find(|c| c.key.to_string() == row.card).unwrap_or_else(|| panic!("{what}"));
        let Body::Sequence(procedure) = &card.body else { panic!("{what}") };
        let first = procedure.step_of(&row.first).unwrap_or_else(|| panic!("{what}"));
        let then = procedure.step_of(&row.then).unwrap_or_else(|| panic!("{what}"));
        let keys = |steps: &[usize]| steps.iter().map(|s| procedure.steps[*s].key.clone()).collect::<Vec<_>>();

        let working = prove(procedure).expect("simple enough").one.expect("an order");
        let place = |step: usize| working.iter().position(|s| *s == step).unwrap_or_else(|| panic!("{what}"));
        assert!(place(first) < place(then), "{what}");
        assert_eq!(answer_of(card, &keys(&working)), Outcome::Answered, "{what}");

        let mut turned: Vec<usize> = working.iter().copied().filter(|s| *s != then).collect();
        turned.insert(place(first), then);
        assert!(!run(procedure, &turned).works(), "{what}");
        assert!(answer_of(card, &keys(&turned)) < Outcome::Answered, "{what}");
    }
}
