//! Decks that a test writes.

use std::fs;
use std::path::{Path, PathBuf};

/// The head of a deck by E. Dunmore, whose cards may cite the source `practice`.
pub fn head(id: &str, edition: u32) -> String {
    format!(
        "id = \"{id}\"\ntitle = \"Marram Light, our own plant\"\nedition = {edition}\nlanguage = \"en\"\npublisher = \"E. Dunmore\"\n\
         licence = \"CC-BY-4.0\"\n\n[source.practice]\ntitle = \"Common practice, no published source\"\nkind = \"practice\"\n\n"
    )
}

/// Writes a deck of these cards into a folder.
pub fn write_into(folder: &Path, id: &str, edition: u32, cards: &str) {
    fs::create_dir_all(folder).expect("a folder");
    fs::write(folder.join("deck.toml"), head(id, edition)).expect("written");
    fs::write(folder.join("cards.toml"), cards).expect("written");
}

/// Writes a learner's own deck of these cards into a home; gives its folder.
pub fn write(home: &Path, id: &str, cards: &str) -> PathBuf {
    let folder = home.join("decks").join(id);
    write_into(&folder, id, 1, cards);
    folder
}
