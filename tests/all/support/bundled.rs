//! The decks that come with the program, as they stand in the sources: for tests that must know all of them.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use bedplate::app::profile::bundled::lay_out;
use bedplate::deck::read_deck;
use bedplate::domain::attempt::{SetAside, Until};
use bedplate::domain::card::Card;
use bedplate::domain::day::Instant;
use bedplate::domain::kinds::Kind;
use bedplate::store::{OpenOptions, Store};
use tempfile::TempDir;

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

/// All their cards, read once.
pub fn cards() -> Vec<Card> {
    static CARDS: OnceLock<Vec<Card>> = OnceLock::new();
    let read = || ids().iter().flat_map(|id| read_deck(&folder().join(id)).deck.expect("a deck").cards).collect();
    CARDS.get_or_init(read).clone()
}

/// Gives a home, where it has none yet, the decks of the program as they are laid out: written once, and shared. A program
/// mends them by putting files in their places, never by writing into them.
pub fn share_in(home: &Path) {
    static SHARED: OnceLock<TempDir> = OnceLock::new();
    let shared = SHARED.get_or_init(|| {
        let shared = tempfile::tempdir().expect("a folder");
        lay_out(shared.path()).expect("laid out");
        shared
    });
    #[cfg(unix)]
    if !home.join("bundled").exists() {
        fs::create_dir_all(home).expect("a folder");
        std::os::unix::fs::symlink(shared.path().join("bundled"), home.join("bundled")).expect("a link");
    }
}

/// All their cards of one kind.
pub fn of_kind(kind: Kind) -> Vec<Card> {
    cards().into_iter().filter(|card| card.kind() == kind).collect()
}

/// Makes a profile in which all of them are set aside, so that a test's own deck comes first in its watch. It is made once
/// for a time, and copied.
pub fn set_aside_in(profile: &Path, now: Instant) {
    static MADE: Mutex<BTreeMap<Instant, TempDir>> = Mutex::new(BTreeMap::new());
    let mut made = MADE.lock().unwrap_or_else(PoisonError::into_inner);
    let model = made.entry(now).or_insert_with(|| {
        let model = tempfile::tempdir().expect("a folder");
        set_aside_at(model.path(), now);
        model
    });
    fs::create_dir_all(profile).expect("a folder");
    for file in fs::read_dir(model.path()).expect("the model").flatten().filter(|file| file.path().is_file()) {
        fs::copy(file.path(), profile.join(file.file_name())).expect("copied");
    }
}

fn set_aside_at(profile: &Path, now: Instant) {
    let options = OpenOptions { dir: profile.to_owned(), now, wake: Arc::new(|| {}) };
    let opened = Store::open(options).expect("a new profile");
    let set_aside = |card: Card| opened.store.set_aside(SetAside { card: card.key, at: now, until: Until::ForGood });
    let tickets: Vec<_> = cards().into_iter().map(set_aside).collect();
    tickets.into_iter().for_each(|ticket| ticket.wait().expect("set aside"));
}
