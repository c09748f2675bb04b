//! The start's backup: made beside the work, whole, seven kept, none without a change, never a hindrance.

use std::fs;
use std::path::Path;

use bedplate::domain::day::Instant;
use bedplate::domain::settings::Settings;
use bedplate::store::{Notice, OpenOptions, Opened, Store, StoreError, backup};

use super::basics::{NOW, attempt, known, open, options};

fn open_on_day(dir: &Path, day: i64) -> Opened {
    Store::open(options(dir, Instant(NOW.0 + day * 86_400_000))).unwrap()
}

fn record(opened: &Opened, n: i64) {
    let a = attempt("drain", n);
    opened.store.record(a.clone(), known(&a, 1)).wait().unwrap();
}

/// How many attempts a backup holds, read without the store.
fn attempts_in(path: &Path) -> u32 {
    let flags = rusqlite::OpenFlags::SQLITE_OPEN_READ_ONLY;
    let conn = rusqlite::Connection::open_with_flags(path, flags).unwrap();
    let told: String = conn.query_row("PRAGMA integrity_check", [], |r| r.get(0)).unwrap();
    assert_eq!(told, "ok");
    conn.query_row("SELECT count(*) FROM attempt", [], |r| r.get(0)).unwrap()
}

#[test]
fn seven_are_kept_the_newest_first() {
    let dir = tempfile::tempdir().unwrap();
    for day in 0..12 {
        record(&open_on_day(dir.path(), day), day);
    }
    let kept = backup::list(dir.path()).unwrap();
    assert_eq!(kept.len(), backup::KEPT);
    // The backup of day n is made at its start: it holds the attempts of the days before, n in number.
    for (backup, day) in kept.iter().zip((5..12).rev()) {
        assert_eq!(attempts_in(&backup.path), day);
        assert_eq!(backup.made_at, Instant(NOW.0 + i64::from(day) * 86_400_000));
        assert_eq!(backup.bytes, fs::metadata(&backup.path).unwrap().len());
    }
    let opened = open_on_day(dir.path(), 12);
    let listed = opened.store.backups().wait().unwrap();
    assert!(listed.len() >= backup::KEPT);
    drop(opened);
    let names: Vec<_> = fs::read_dir(dir.path().join("backups")).unwrap().map(|e| e.unwrap().file_name()).collect();
    assert_eq!(names.len(), backup::KEPT, "nothing else is left in the folder: {names:?}");
}

#[test]
fn none_is_made_when_nothing_has_changed() {
    let dir = tempfile::tempdir().unwrap();
    let count = || backup::list(dir.path()).unwrap().len();
    drop(open_on_day(dir.path(), 0));
    assert_eq!(count(), 1, "of the new profile");
    drop(open_on_day(dir.path(), 1));
    drop(open_on_day(dir.path(), 2));
    assert_eq!(count(), 1);
    let opened = open_on_day(dir.path(), 3);
    // The cache and the search index can be worked out again: no reason for a backup.
    opened.store.replace_memory("stamp".to_owned(), vec![]).wait().unwrap();
    drop(opened);
    drop(open_on_day(dir.path(), 4));
    assert_eq!(count(), 1);
    open_on_day(dir.path(), 5)
        .store
        .save_settings(&Settings { minutes: 60, ..Settings::default() }, NOW)
        .wait()
        .unwrap();
    drop(open_on_day(dir.path(), 6));
    assert_eq!(count(), 2, "settings are a change");
    record(&open_on_day(dir.path(), 7), 1);
    drop(open_on_day(dir.path(), 8));
    assert_eq!(count(), 3, "an attempt is a change");
}

#[test]
fn order_holds_when_the_clock_is_put_back() {
    let dir = tempfile::tempdir().unwrap();
    for (n, day) in [100, 50, 20, 0].into_iter().enumerate() {
        record(&open_on_day(dir.path(), day), n as i64);
    }
    let held: Vec<u32> = backup::list(dir.path()).unwrap().iter().map(|b| attempts_in(&b.path)).collect();
    assert_eq!(held, [3, 2, 1, 0], "the newest is the one made last");
}

#[test]
fn word_of_it_comes_as_a_notice_and_wakes_the_window() {
    let dir = tempfile::tempdir().unwrap();
    let (tx, rx) = std::sync::mpsc::channel();
    let wake = std::sync::Arc::new(move || {
        let _ = tx.send(());
    });
    let opened = Store::open(OpenOptions { dir: dir.path().to_owned(), now: NOW, wake }).unwrap();
    let notices = loop {
        let notices = opened.store.take_notices();
        if !notices.is_empty() {
            break notices;
        }
        rx.recv().unwrap();
    };
    let [Notice::BackupMade(made)] = &notices[..] else { panic!("{notices:?}") };
    assert_eq!(made, &backup::list(dir.path()).unwrap()[0]);
    assert_eq!(opened.store.take_notices(), []);
}

#[test]
fn a_backup_that_fails_is_a_notice_and_no_hindrance() {
    let dir = tempfile::tempdir().unwrap();
    fs::write(dir.path().join("backups"), "a file where the folder should be").unwrap();
    let opened = open(dir.path());
    record(&opened, 0);
    let store = opened.store.clone();
    let failed = loop {
        match store.take_notices().pop() {
            Some(notice) => break notice,
            None => std::thread::yield_now(),
        }
    };
    assert!(matches!(&failed, Notice::BackupFailed(StoreError::Io { .. })), "{failed:?}");
    assert!(failed.to_string().contains("backups"), "{failed}");
    drop((opened, store));
    assert_eq!(open(dir.path()).attempts_count, 1);
}

#[test]
fn what_an_unfinished_backup_left_is_cleared_and_other_files_stay() {
    let dir = tempfile::tempdir().unwrap();
    let backups = dir.path().join("backups");
    fs::create_dir(&backups).unwrap();
    let left = ["000001-2026-11-24-080000Z.sqlite.new", "000001-2026-11-24-080000Z.sqlite.new-journal"];
    for name in left.iter().chain(&["my own notes.txt", "000001.sqlite"]) {
        fs::write(backups.join(name), "half").unwrap();
    }
    drop(open(dir.path()));
    assert!(left.iter().all(|name| !backups.join(name).exists()));
    assert!(backups.join("my own notes.txt").exists() && backups.join("000001.sqlite").exists());
    assert_eq!(backup::list(dir.path()).unwrap().len(), 1);
}

/// Attempts are recorded while the copy is made; the copy is of one moment and the work is whole.
#[test]
fn recording_goes_on_beside_a_backup() {
    let dir = tempfile::tempdir().unwrap();
    let opened = open(dir.path());
    let many: Vec<_> = (0..3000).map(|n| attempt(&format!("card-{}", n % 50), n)).collect();
    assert_eq!(opened.store.unite(many).wait().unwrap(), 3000);
    drop(opened);
    let opened = open_on_day(dir.path(), 1);
    for n in 0..40 {
        record(&opened, 10_000 + n);
    }
    drop(opened);
    let newest = &backup::list(dir.path()).unwrap()[0];
    assert_eq!(attempts_in(&newest.path), 3000, "the copy is of the moment of the start");
    assert_eq!(open_on_day(dir.path(), 1).attempts_count, 3040);
}
