//! The decks that come with the program: sound, of the promised size, and their figures held to tables that were
//! written from the rules, not from the decks.

use std::collections::HashSet;

use bedplate::deck::Severity;
use bedplate::domain::answer::{Answer, Given};
use bedplate::domain::kinds::{Body, Kind};
use bedplate::domain::marking::mark;
use bedplate::domain::outcome::Outcome;
use serde::Deserialize;

use crate::support::bundled;

const DECKS: [&str; 2] = ["auxiliary-power", "air-fuel-lubrication"];

#[derive(Deserialize)]
struct Table {
    figure: Vec<Row>,
}

#[derive(Deserialize)]
struct Row {
    card: String,
    value: String,
    source: String,
    confirmed: String,
}

fn table(text: &str) -> Vec<Row> {
    toml::from_str::<Table>(text).expect("the table is TOML").figure
}

#[test]
fn the_decks_are_sound_and_large_enough() {
    for name in DECKS {
        let reading = bundled::reading(name);
        let serious: Vec<_> = reading.problems.iter().filter(|p| p.severity != Severity::Advice).collect();
        assert!(serious.is_empty(), "{name}: {serious:?}");
        let deck = reading.deck.as_ref().expect("a deck");
        let count = |kind| deck.cards.iter().filter(|c| c.kind() == kind).count();
        assert!(deck.cards.len() >= 60, "{name}");
        assert!(count(Kind::Figure) >= 20 && count(Kind::Why) >= 10, "{name}");
        for card in &deck.cards {
            assert!(!deck.source_titles(card).is_empty(), "{}", card.key);
        }
    }
}

#[test]
fn figures_agree_with_the_rules() {
    let rows: Vec<Row> = [
        include_str!("../../reference/figures-air-fuel-lubrication.toml"),
        include_str!("../../reference/figures-auxiliary-power.toml"),
        include_str!("../../reference/figures-boilers-and-steam.toml"),
        include_str!("../../reference/figures-construction-and-stability.toml"),
        include_str!("../../reference/figures-cooling-and-heat-exchange.toml"),
        include_str!("../../reference/figures-electrical-protection-and-control.toml"),
        include_str!("../../reference/figures-fire-life-saving-first-aid.toml"),
        include_str!("../../reference/figures-materials-tools-maintenance.toml"),
        include_str!("../../reference/figures-pollution-prevention.toml"),
        include_str!("../../reference/figures-pumps-bilge-ballast.toml"),
        include_str!("../../reference/figures-refrigeration-and-ventilation.toml"),
        include_str!("../../reference/figures-steering-and-deck-machinery.toml"),
        include_str!("../../reference/figures-watchkeeping-and-leadership.toml"),
    ]
    .into_iter()
    .flat_map(table)
    .collect();
    assert!(rows.len() >= 135);
    let named: HashSet<&str> = rows.iter().map(|row| row.card.as_str()).collect();
    assert_eq!(named.len(), rows.len(), "one row for each card");
    let cards = crate::support::bundled::of_kind(Kind::Figure);
    for row in &rows {
        assert!(!row.source.is_empty() && !row.confirmed.is_empty(), "{} names its source", row.card);
        let card = cards.iter().find(|c| c.key.to_string() == row.card).unwrap_or_else(|| panic!("{}", row.card));
        assert!(matches!(card.body, Body::Figure(_)), "{}", row.card);
        let marking = mark(card, &Answer::of(Given::Text(row.value.clone()))).expect("a figure takes a text");
        assert_eq!(marking.outcome, Outcome::Answered, "{} by {}: {marking:?}", row.card, row.source);
    }
}

#[test]
fn every_recall_card_can_be_answered_in_its_own_words() {
    for name in DECKS {
        let deck = bundled::deck(name);
        for card in &deck.cards {
            let Body::Recall(recall) = &card.body else { continue };
            let text: String = recall.points.iter().map(|p| format!("{}. ", p.say.trim_end_matches('.'))).collect();
            let marking = mark(card, &Answer::of(Given::Text(text))).expect("a recall takes a text");
            assert_eq!(marking.outcome, Outcome::Answered, "{}: {marking:?}", card.key);
        }
    }
}
