//! The decks that come with the program, as the tests find them: every folder of `decks/` with a `deck.toml`.

use std::path::{Path, PathBuf};

use bedplate::deck::read_deck;
use bedplate::domain::card::Card;

/// Their folders, in order of name.
pub fn folders() -> Vec<PathBuf> {
    let decks = Path::new(env!("CARGO_MANIFEST_DIR")).join("decks");
    let mut folders: Vec<PathBuf> = std::fs::read_dir(&decks)
        .expect("the decks folder")
        .flatten()
        .map(|entry| entry.path())
        .filter(|folder| folder.join("deck.toml").is_file())
        .collect();
    folders.sort();
    assert!(folders.len() >= 3, "{folders:?}");
    folders
}

/// Their ids, which are the names of their folders.
pub fn ids() -> Vec<String> {
    folders().iter().map(|folder| folder.file_name().expect("a name").to_string_lossy().into_owned()).collect()
}

/// Every card of theirs that can be asked.
pub fn cards() -> Vec<Card> {
    folders().iter().flat_map(|folder| read_deck(folder).deck.expect("a deck").cards).collect()
}
