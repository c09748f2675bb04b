//! The decks that come with the program, as they stand in the sources: for tests that must know all of them.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, OnceLock};

use bedplate::deck::read_deck;
use bedplate::domain::attempt::{SetAside, Until};
use bedplate::domain::card::{Card, Kind};
use bedplate::domain::day::Instant;
use bedplate::domain::ids::CardKey;
use bedplate::store::{OpenOptions, Store};

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

/// Makes a profile in which all of them are set aside, so that a test's own deck comes first in its watch.
pub fn set_aside_in(profile: &Path, now: Instant) {
    static KEYS: OnceLock<Vec<CardKey>> = OnceLock::new();
    let keys = KEYS.get_or_init(|| cards().into_iter().map(|card| card.key).collect());
    let options = OpenOptions { dir: profile.to_owned(), now, wake: Arc::new(|| {}) };
    let opened = Store::open(options).expect("a new profile");
    let set_aside =
        |key: &CardKey| opened.store.set_aside(SetAside { card: key.clone(), at: now, until: Until::ForGood });
    let tickets: Vec<_> = keys.iter().map(set_aside).collect();
    tickets.into_iter().for_each(|ticket| ticket.wait().expect("set aside"));
}
