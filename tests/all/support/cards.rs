//! Cards and decks made by a test.

use std::fs;
use std::path::Path;

use bedplate::deck::{Severity, read_deck};
use bedplate::domain::card::Card;
use bedplate::domain::deck::Deck;
use bedplate::domain::ids::CardKey;
use bedplate::domain::key_point::KeyPoint;
use bedplate::domain::kinds::Body;
use bedplate::domain::oral::Candidate;

/// A key point that only its own sentence makes.
pub fn point(say: &str, critical: bool) -> KeyPoint {
    KeyPoint::plain(say.to_owned(), critical)
}

/// A card that has nothing but its question and what is asked.
pub fn card(deck: &str, id: &str, ask: &str, body: Body) -> Card {
    Card {
        key: CardKey::new(deck, id),
        topic: "A-III/1.1.4".to_owned(),
        heading: None,
        ask: ask.to_owned(),
        because: None,
        because_points: Vec::new(),
        caution: None,
        sources: vec!["practice".to_owned()],
        picture: None,
        seconds: None,
        weight: 2,
        probes: Vec::new(),
        samples: Vec::new(),
        was: Vec::new(),
        body,
    }
}

/// Writes a deck `stage` of these cards, in TOML, which may cite the source `practice`.
pub fn write_stage(folder: &Path, cards: &str) {
    let head = r#"
id = "stage"
title = "Stage"
edition = 1
language = "en"
publisher = "Bedplate contributors"
licence = "CC-BY-4.0"
[source.practice]
title = "Common practice, no published source"
kind = "practice"
"#;
    fs::write(folder.join("deck.toml"), head).expect("written");
    fs::write(folder.join("cards.toml"), cards).expect("written");
}

/// A sound deck `stage` of these cards, in TOML.
pub fn stage(cards: &str) -> Deck {
    let folder = tempfile::tempdir().expect("a temporary folder");
    write_stage(folder.path(), cards);
    let reading = read_deck(folder.path());
    let errors: Vec<_> = reading.problems.iter().filter(|p| p.severity == Severity::Error).collect();
    assert!(errors.is_empty(), "{errors:?}");
    reading.deck.expect("a sound deck")
}

/// Cards that an examiner may ask, none of which the learner has met.
pub fn candidates(cards: &[Card]) -> Vec<Candidate<'_>> {
    cards.iter().map(|card| Candidate { card, sources: Vec::new(), recall: None }).collect()
}
