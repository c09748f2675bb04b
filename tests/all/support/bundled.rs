//! The decks that come with the program, as they stand in the sources: for tests that must know all of them.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, LazyLock, Mutex, OnceLock, PoisonError};

use bedplate::app::profile::bundled::lay_out;
use bedplate::app::profile::opening;
use bedplate::app::program::setup::Setup;
use bedplate::deck::{Reading, read_deck_to_ask};
use bedplate::domain::attempt::{SetAside, Until};
use bedplate::domain::card::Card;
use bedplate::domain::day::Instant;
use bedplate::domain::deck::Deck;
use bedplate::domain::kinds::Kind;
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

/// What reading one of them gives, its samples left unmarked: `.ci/run` has them marked; each is read once.
pub fn reading(id: &str) -> &'static Arc<Reading> {
    static READ: LazyLock<BTreeMap<String, OnceLock<Arc<Reading>>>> =
        LazyLock::new(|| ids().into_iter().map(|id| (id, OnceLock::new())).collect());
    let read = READ.get(id).unwrap_or_else(|| panic!("{id} is no deck of the program"));
    read.get_or_init(|| Arc::new(read_deck_to_ask(&folder().join(id))))
}

/// One of them.
pub fn deck(id: &str) -> &'static Deck {
    reading(id).deck.as_ref().expect("a deck")
}

/// All of them, in order of their ids.
pub fn decks() -> impl Iterator<Item = &'static Deck> {
    ids().into_iter().map(|id| deck(&id))
}

/// All their cards.
pub fn cards() -> Vec<Card> {
    decks().flat_map(|deck| deck.cards.iter().cloned()).collect()
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

/// Makes a profile in which all of them are set aside, so that a test's own deck comes first in its watch, and found by its
/// search. It is made once for a time, and copied.
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
    let home = tempfile::tempdir().expect("a folder");
    share_in(home.path());
    let setup = Setup {
        home: home.path().to_owned(),
        dir: profile.to_owned(),
        learner: None,
        ship: Default::default(),
        clock: Arc::new(move || now),
        wake: Arc::new(|| {}),
        reader: None,
    };
    let ready = opening::open(&setup, now).expect("a new profile");
    ready.indexing.wait().expect("found by the search");
    let store = ready.profile.store;
    let set_aside = |card: &Card| store.set_aside(SetAside { card: card.key.clone(), at: now, until: Until::ForGood });
    let tickets: Vec<_> = ready.shelf.cards().map(|(_, card)| set_aside(card)).collect();
    tickets.into_iter().for_each(|ticket| ticket.wait().expect("set aside"));
}
