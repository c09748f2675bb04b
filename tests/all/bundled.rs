//! The decks that come with the program, as they stand in the sources: for tests that must know all of them.

use std::fs;
use std::path::{Path, PathBuf};

use bedplate::deck::read_deck;
use bedplate::domain::card::{Card, Kind};

/// The folder that holds them.
pub fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("decks")
}

/// Their ids, in order; a deck's folder has the name of its id.
pub fn ids() -> Vec<String> {
    let entries = fs::read_dir(folder()).expect("the decks").flatten().filter(|e| e.path().join("deck.toml").is_file());
    let mut ids: Vec<String> = entries.map(|e| e.file_name().to_string_lossy().into_owned()).collect();
    ids.sort();
    ids
}

/// All their cards.
pub fn cards() -> Vec<Card> {
    ids().iter().flat_map(|id| read_deck(&folder().join(id)).deck.expect("a deck").cards).collect()
}

/// All their cards of one kind.
pub fn of_kind(kind: Kind) -> Vec<Card> {
    cards().into_iter().filter(|card| card.kind() == kind).collect()
}
