//! What a deck file says, as the program's own data: every key of every kind that can be asked.

use std::fs;

use bedplate::deck::read_deck;
use bedplate::domain::card::{After, Card, Probe};
use bedplate::domain::deck::{Deck, SourceKind};
use bedplate::domain::key_point::KeyPoint;
use bedplate::domain::kinds::Body;
use bedplate::domain::kinds::figure::Figure;
use bedplate::domain::kinds::recall::Recall;
use bedplate::domain::kinds::why::Why;
use bedplate::domain::quantity::{Quantity, Within};

const DECK: &str = r#"
id = "marram-light"
title = "Standing orders"
edition = 3
language = "en-GB"
publisher = "The engineers"
licence = "CC-BY-4.0"
about = "What the chief asks."
caution = "Memory only."

[source.practice]
title = "common practice, no published source"
kind = "practice"

[source.un-M10]
title = "IACS UR M10"
kind = "class-rule"

[[why]]
id = "in-the-deck-file"
topic = "A-III/2.2.2"
ask = "In order?"
links = ["First", "Second"]
false_links = ["Neither"]
sources = ["un-M10"]
"#;

const CARDS: &str = r#"
[[figure]]
id = "full-air"
topic = "A-III/1.1.4"
heading = "Air"
ask = "To what pressure?"
value = "30 bar"
within = "2 %"
sources = ["practice", "un-M10"]
caution = "Open valves slowly."
picture = "pictures/air.svg"
seconds = 7.5
weight = 3
because = """
Most are.
"""

[[recall]]
id = "pump"
topic = "A-III/1.1.4"
ask = "Why?"
sources = ["practice"]
[[recall.points]]
say = "It is full"
accept = ["full"]
reject = ["empty"]
critical = true
[[recall.points]]
say = "It is hot"
[[recall.probes]]
after = "said:2"
ask = "How hot?"
points = [{ say = "Very" }]

[[figure]]
id = "exact"
topic = "A-III/1.1.4"
ask = "How many?"
value = "6"
sources = ["practice"]
probes = [{ after = "all", ask = "Sure?", points = [{ say = "Yes" }] }]

[[figure]]
id = "near"
topic = "A-III/1.1.4"
ask = "How hot?"
value = " 85 °C "
within = "5 K"
sources = ["practice"]
"#;

fn read(line_end: &str) -> Deck {
    let folder = tempfile::tempdir().expect("a folder");
    fs::create_dir_all(folder.path().join("cards")).expect("a folder");
    fs::create_dir_all(folder.path().join("pictures")).expect("a folder");
    fs::write(folder.path().join("pictures/air.svg"), "<svg/>").expect("written");
    fs::write(folder.path().join("deck.toml"), DECK.replace('\n', line_end)).expect("written");
    fs::write(folder.path().join("cards/all.toml"), CARDS.replace('\n', line_end)).expect("written");
    let reading = read_deck(folder.path());
    let errors: Vec<_> = reading.problems.iter().filter(|p| p.severity.word() == "error").collect();
    assert!(errors.is_empty(), "{errors:?}");
    reading.deck.expect("a deck")
}

fn plain(id: &str, ask: &str, body: Body) -> Card {
    crate::support::cards::card("marram-light", id, ask, body)
}

fn point(say: &str) -> KeyPoint {
    crate::support::cards::point(say, false)
}

fn quantity(number: f64, unit: &str) -> Quantity {
    Quantity { number, unit: unit.to_owned() }
}

#[test]
fn every_key_of_the_deck_file_is_read() {
    let deck = read("\n");
    assert_eq!(deck.id.0, "marram-light");
    assert_eq!((deck.title.as_str(), deck.edition, deck.language.as_str()), ("Standing orders", 3, "en-GB"));
    assert_eq!((deck.publisher.as_str(), deck.licence.as_str()), ("The engineers", "CC-BY-4.0"));
    assert_eq!(deck.about.as_deref(), Some("What the chief asks."));
    assert_eq!(deck.caution.as_deref(), Some("Memory only."));
    assert_eq!(deck.sources.len(), 2);
    assert_eq!(deck.sources["un-M10"].kind, SourceKind::ClassRule);
    assert_eq!(deck.sources["practice"].title, "common practice, no published source");
}

#[test]
fn every_key_of_every_kind_is_read_in_the_order_of_files_and_cards() {
    let ids: Vec<String> = read("\n").cards.into_iter().map(|card| card.key.card).collect();
    assert_eq!(ids, ["full-air", "pump", "exact", "near", "in-the-deck-file"]);
    let cards = read("\n").cards;
    let figure = |number, unit, text: &str, within| {
        Body::Figure(Figure { value: quantity(number, unit), value_text: text.to_owned(), within })
    };
    assert_eq!(
        cards[0],
        Card {
            heading: Some("Air".to_owned()),
            because: Some("Most are.\n".to_owned()),
            caution: Some("Open valves slowly.".to_owned()),
            sources: vec!["practice".to_owned(), "un-M10".to_owned()],
            picture: Some("pictures/air.svg".to_owned()),
            seconds: Some(7.5),
            weight: 3,
            ..plain("full-air", "To what pressure?", figure(30.0, "bar", "30 bar", Within::Relative(0.02)))
        }
    );
    let full = KeyPoint {
        accept: vec!["full".to_owned()],
        reject: vec!["empty".to_owned()],
        critical: true,
        ..point("It is full")
    };
    let recall = Body::Recall(Recall { points: vec![full, point("It is hot")] });
    let probe = |after, ask: &str, say| Probe { after, ask: ask.to_owned(), points: vec![point(say)] };
    assert_eq!(
        cards[1],
        Card { probes: vec![probe(After::Said(2), "How hot?", "Very")], ..plain("pump", "Why?", recall) }
    );
    let exact = plain("exact", "How many?", figure(6.0, "", "6", Within::Exact));
    assert_eq!(cards[2], Card { probes: vec![probe(After::All, "Sure?", "Yes")], ..exact });
    let near = Within::Absolute(quantity(5.0, "K"));
    assert_eq!(cards[3], plain("near", "How hot?", figure(85.0, "degC", "85 °C", near)));
    let why = Why { links: vec!["First".to_owned(), "Second".to_owned()], false_links: vec!["Neither".to_owned()] };
    let why = plain("in-the-deck-file", "In order?", Body::Why(why));
    assert_eq!(cards[4], Card { topic: "A-III/2.2.2".to_owned(), sources: vec!["un-M10".to_owned()], ..why });
}

#[test]
fn line_ends_of_other_systems_make_no_difference() {
    assert_eq!(read("\n"), read("\r\n"));
}
