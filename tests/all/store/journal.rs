//! A folder in which no write-ahead log can be had: a rollback journal keeps the same promise. What a file system without
//! shared memory does to SQLite is done here by folders that stand where it would make its `-shm` files.

use std::fs;
use std::path::Path;

use bedplate::domain::ids::DeckId;
use bedplate::store::{SearchCard, SearchDoc, Store};

use super::basics::{NOW, attempt, known, open, options};

/// Makes a folder one in which no log can be had.
pub fn without_log(dir: &Path) {
    fs::create_dir_all(dir).unwrap();
    for name in ["profile.sqlite", "profile.probe", "search.sqlite"] {
        fs::create_dir(dir.join(format!("{name}-shm"))).unwrap();
    }
}

/// What the file's head says of how it is written: 1 with a rollback journal, 2 with a log
/// (https://www.sqlite.org/fileformat2.html, section 1.3.3).
fn written(dir: &Path) -> [u8; 2] {
    fs::read(dir.join("profile.sqlite")).unwrap()[18..20].try_into().unwrap()
}

#[test]
fn where_no_log_can_be_had_all_goes_on_without() {
    let (good, bad) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    drop(open(good.path()));
    assert_eq!(written(good.path()), [2, 2], "elsewhere there is one");
    without_log(bad.path());
    let all: Vec<_> = (0..20).map(|n| attempt(&format!("card-{}", n % 3), n)).collect();
    for a in &all {
        // Opened anew each time: what was kept is there, and a backup of it is made.
        let opened = open(bad.path());
        opened.store.record(a.clone(), known(a, 1)).wait().unwrap();
        drop(opened);
        assert_eq!(written(bad.path()), [1, 1]);
    }
    let opened = open(bad.path());
    assert_eq!(opened.store.attempts(None, usize::MAX).wait().unwrap(), all);
    assert_eq!(opened.store.backups().wait().unwrap().len(), 7);
    let card = SearchCard { card: "drain".to_owned(), title: "Drain".to_owned(), body: "the sea chest".to_owned() };
    let deck = SearchDoc {
        deck: DeckId("marram-light".to_owned()),
        title: "Ship".to_owned(),
        digest: "1".to_owned(),
        cards: vec![card],
    };
    assert_eq!(opened.store.index_decks(vec![deck]).wait(), Ok(1));
    assert_eq!(opened.store.search("chest", 5).wait().unwrap().len(), 1);
    // While it is open it can be read, and while it is read it can be kept in.
    let reader = Store::open_or_read(options(bad.path(), NOW)).unwrap_or_else(|e| panic!("{e}"));
    assert!(reader.store.reads_only());
    let more = attempt("card-9", 99);
    opened.store.record(more.clone(), known(&more, 1)).wait().unwrap();
    assert_eq!(reader.store.attempts(None, usize::MAX).wait().unwrap().len(), 21);
    assert!(!bad.path().join("profile.sqlite-wal").exists() && !bad.path().join("profile.probe").exists());
}

/// A profile with answers in its log, copied where no log can be had, and back.
#[test]
fn what_stands_in_a_log_comes_along() {
    let (good, bad) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    drop(open(good.path()));
    without_log(bad.path());
    let opened = open(good.path());
    let all: Vec<_> = (0..30).map(|n| attempt("drain", n)).collect();
    for a in &all {
        opened.store.record(a.clone(), known(a, 1)).wait().unwrap();
    }
    for name in ["profile.sqlite", "profile.sqlite-wal"] {
        fs::copy(good.path().join(name), bad.path().join(name)).unwrap();
    }
    assert!(fs::metadata(bad.path().join("profile.sqlite-wal")).unwrap().len() > 0);
    drop(opened);
    let opened = open(bad.path());
    assert_eq!(opened.store.attempts(None, usize::MAX).wait().unwrap(), all);
    let more = attempt("drain", 50);
    opened.store.record(more.clone(), known(&more, 1)).wait().unwrap();
    drop(opened);
    assert_eq!(written(bad.path()), [1, 1]);
    let back = tempfile::tempdir().unwrap();
    fs::copy(bad.path().join("profile.sqlite"), back.path().join("profile.sqlite")).unwrap();
    let opened = open(back.path());
    assert_eq!(opened.attempts_count, 31);
    drop(opened);
    assert_eq!(written(back.path()), [2, 2], "where a log can be had there is one again");
}

/// A later version's file stays as it is there, too.
#[test]
fn a_later_versions_file_stays_as_it_is() {
    let (good, bad) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    drop(open(good.path()));
    let later = rusqlite::Connection::open(good.path().join("profile.sqlite")).unwrap();
    later.execute_batch("PRAGMA user_version = 99").unwrap();
    without_log(bad.path());
    for name in ["profile.sqlite", "profile.sqlite-wal"] {
        fs::copy(good.path().join(name), bad.path().join(name)).unwrap();
    }
    let read = |name: &str| fs::read(bad.path().join(name)).unwrap();
    let before = (read("profile.sqlite"), read("profile.sqlite-wal"));
    assert!(Store::open(options(bad.path(), NOW)).is_err());
    assert_eq!((read("profile.sqlite"), read("profile.sqlite-wal")), before);
}
