//! The decks that come with the program, as they lie in the home folder: held against the binary, and mended.

use std::fs;
use std::path::{Path, PathBuf};

use bedplate::app::profile::shelf::Shelf;

use crate::support::bundled;

fn folder(home: &Path) -> PathBuf {
    let mut layings = fs::read_dir(home.join("bundled")).expect("they are laid out");
    let found = layings.find_map(|entry| {
        let path = entry.expect("an entry").path();
        (path.file_name().is_some_and(|name| name.len() == 16)).then_some(path)
    });
    found.expect("a laying-out")
}

/// Every file with its bytes.
fn all(folder: &Path) -> Vec<(PathBuf, Vec<u8>)> {
    let mut files = Vec::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(next) = folders.pop() {
        for entry in fs::read_dir(next).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
            } else {
                files.push((path.clone(), fs::read(&path).expect("read")));
            }
        }
    }
    files.sort();
    files
}

#[test]
fn what_was_emptied_cut_changed_or_removed_is_mended_at_the_next_start() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let first = Shelf::read(home.path()).expect("laid out");
    let cards = first.cards().count();
    assert!(cards > 0 && first.notes.is_empty(), "{:?}", first.notes);
    let folder = folder(home.path());
    let sound = all(&folder);
    assert!(sound.len() > 10);
    // Emptied, cut, one byte changed with the same length and time, removed, a folder removed, a file in its place.
    let (path, bytes) = &sound[0];
    fs::write(path, b"").expect("emptied");
    let (path, _) = &sound[1];
    fs::write(path, &sound[1].1[..bytes.len().min(sound[1].1.len() / 2)]).expect("cut");
    let (path, bytes) = &sound[2];
    let time = fs::metadata(path).and_then(|meta| meta.modified()).expect("its time");
    let mut changed = bytes.clone();
    changed[0] ^= 1;
    fs::write(path, changed).expect("changed");
    fs::File::options().write(true).open(path).and_then(|file| file.set_modified(time)).expect("as old as before");
    fs::remove_file(&sound[3].0).expect("removed");
    let last = sound.last().expect("many").0.parent().expect("a folder").to_owned();
    fs::remove_dir_all(&last).expect("removed");
    fs::write(&last, b"no folder").expect("a file in its place");
    let second = Shelf::read(home.path()).expect("mended");
    assert_eq!(all(&folder), sound, "byte for byte");
    assert_eq!(second.cards().count(), cards);
    assert!(second.notes.iter().any(|note| note.contains("damaged or missing")), "{:?}", second.notes);
    assert!(Shelf::read(home.path()).expect("sound").notes.is_empty(), "and said once");
}

#[test]
fn a_deck_whose_files_were_all_emptied_can_be_studied_again() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let cards = Shelf::read(home.path()).expect("laid out").cards().count();
    let folder = folder(home.path());
    let sound = all(&folder);
    for (path, _) in &sound {
        fs::write(path, b"").expect("emptied");
    }
    // A deck of the program is read once while it runs, so the files themselves are looked at too.
    assert_eq!(Shelf::read(home.path()).expect("mended").cards().count(), cards);
    assert_eq!(all(&folder), sound, "byte for byte");
    fs::remove_dir_all(&folder).expect("removed");
    fs::create_dir_all(home.path().join("bundled")).expect("a folder");
    assert_eq!(Shelf::read(home.path()).expect("laid out again").cards().count(), cards);
    assert_eq!(all(&folder), sound, "byte for byte");
    // They are what the sources have.
    for (path, bytes) in &sound {
        let name = path.strip_prefix(&folder).expect("inside");
        assert!(fs::read(bundled::folder().join(name)).is_ok_and(|source| source == *bytes), "{}", name.display());
    }
}

#[test]
fn what_is_not_the_programs_is_moved_out_of_its_decks_and_not_deleted() {
    let home = tempfile::tempdir().expect("a temporary folder");
    drop(Shelf::read(home.path()).expect("laid out"));
    let folder = folder(home.path());
    let deck = all(&folder)[0].0.parent().expect("a deck").to_owned();
    fs::write(deck.join("mine.toml"), b"# my own notes").expect("written");
    fs::create_dir(folder.join("my-deck")).expect("a folder");
    fs::write(folder.join("my-deck/deck.toml"), b"# mine").expect("written");
    #[cfg(unix)]
    {
        let linked = all(&folder)[0].0.clone();
        fs::remove_file(&linked).expect("removed");
        std::os::unix::fs::symlink("/etc/passwd", &linked).expect("a link");
    }
    let shelf = Shelf::read(home.path()).expect("mended");
    assert!(shelf.notes.iter().any(|note| note.contains("did not come with the program")), "{:?}", shelf.notes);
    let aside = home.path().join("bundled/set-aside");
    let name = deck.strip_prefix(&folder).expect("inside").join("mine.toml");
    assert_eq!(fs::read(aside.join(name)).expect("it is kept"), b"# my own notes");
    assert_eq!(fs::read(aside.join("my-deck/deck.toml")).expect("it is kept"), b"# mine");
    assert!(!deck.join("mine.toml").exists());
    assert!(all(&folder).iter().all(|(path, _)| !path.is_symlink()));
}

#[test]
fn a_learners_own_edition_still_stands_before_the_programs() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let shelf = Shelf::read(home.path()).expect("laid out");
    let deck = shelf.usable().next().expect("a deck");
    let (id, edition) = (deck.id.clone(), deck.edition);
    let own = |edition: u32| {
        let folder = home.path().join("decks/own");
        fs::create_dir_all(&folder).expect("a folder");
        let head = format!(
            "id = \"{}\"\ntitle = \"Marram Light\"\nedition = {edition}\nlanguage = \"en\"\npublisher = \"E. Dunmore\"\n\
             licence = \"CC-BY-4.0\"\n",
            id.0
        );
        fs::write(folder.join("deck.toml"), head).expect("written");
        let shelf = Shelf::read(home.path()).expect("read");
        let used = shelf.deck(&id).expect("a deck").bundled;
        !used
    };
    assert!(own(edition), "an equal edition");
    assert!(own(edition + 1), "a higher one");
    assert!(edition < 2 || !own(edition - 1), "a lower one does not");
}

#[test]
fn drafts_of_killed_programs_are_cleared_away() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let draft = home.path().join("bundled/draft-1");
    fs::create_dir_all(&draft).expect("a folder");
    let old = std::time::SystemTime::now() - std::time::Duration::from_secs(3 * 24 * 3_600);
    fs::File::open(&draft).and_then(|folder| folder.set_modified(old)).expect("an old one");
    drop(Shelf::read(home.path()).expect("laid out"));
    assert!(!draft.exists());
}
