//! A profile that is damaged, from a later version, or in a place that does not allow writing: said clearly,
//! left as it is, and gone on from without deleting anything.

use std::fs;
use std::io::{Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use bedplate::domain::attempt::Attempt;
use bedplate::domain::day::Instant;
use bedplate::store::{BackupInfo, Notice, OpenError, Store, StoreError};

use super::basics::{NOW, attempt, known, open, options};

const DAY_MS: i64 = 86_400_000;

fn file(dir: &Path) -> PathBuf {
    dir.join("profile.sqlite")
}

/// A profile of many pages, with a backup that holds all but the last attempt.
fn profile() -> (tempfile::TempDir, Vec<Attempt>) {
    let dir = tempfile::tempdir().unwrap();
    let attempts: Vec<Attempt> = (0..301).map(|n| attempt(&format!("card-{}", n % 7), n)).collect();
    let opened = open(dir.path());
    let tickets: Vec<_> = attempts[..300].iter().map(|a| opened.store.record(a.clone(), known(a, 1))).collect();
    tickets.into_iter().for_each(|t| t.wait().unwrap());
    drop(opened);
    let opened = open(dir.path());
    opened.store.record(attempts[300].clone(), known(&attempts[300], 1)).wait().unwrap();
    drop(opened);
    (dir, attempts)
}

fn refused(dir: &Path) -> OpenError {
    match Store::open(options(dir, Instant(NOW.0 + DAY_MS))) {
        Ok(_) => panic!("a damaged profile was opened"),
        Err(error) => error,
    }
}

fn damaged(dir: &Path) -> (String, PathBuf, Option<BackupInfo>) {
    match refused(dir) {
        OpenError::Damaged { why, set_aside_would_be, newest_good_backup, path } => {
            assert_eq!(path, file(dir));
            (why, set_aside_would_be, newest_good_backup)
        }
        other => panic!("expected a damaged file, not: {other}"),
    }
}

fn overwrite(path: &Path, at: u64, bytes: &[u8]) {
    let mut file = fs::File::options().write(true).open(path).unwrap();
    file.seek(SeekFrom::Start(at)).unwrap();
    file.write_all(bytes).unwrap();
}

/// Every sort of damage, each on a fresh profile: found, left as it is, then gone on from the backup.
#[test]
fn damage_of_every_sort_is_found_and_gone_on_from() {
    type Harm = fn(&Path);
    let harms: [(&str, Harm); 11] = [
        ("emptied", |p| fs::write(p, b"").unwrap()),
        ("a few bytes left", |p| fs::File::options().write(true).open(p).unwrap().set_len(60).unwrap()),
        ("one page left", |p| fs::File::options().write(true).open(p).unwrap().set_len(4096).unwrap()),
        ("its end cut off inside a page", |p| {
            let f = fs::File::options().write(true).open(p).unwrap();
            f.set_len(f.metadata().unwrap().len() - 1000).unwrap();
        }),
        ("cut to half", |p| {
            let f = fs::File::options().write(true).open(p).unwrap();
            f.set_len(f.metadata().unwrap().len() / 8192 * 4096).unwrap();
        }),
        ("header of noise", |p| overwrite(p, 0, &[0xA7; 100])),
        ("header of zeros", |p| overwrite(p, 0, &[0; 100])),
        ("the schema's page", |p| overwrite(p, 100, &[0xFF; 600])),
        ("a page in the middle", |p| {
            let pages = fs::metadata(p).unwrap().len() / 4096;
            overwrite(p, pages / 2 * 4096, &[0x5A; 4096]);
        }),
        ("text in its place", |p| fs::write(p, "This was a profile once. ".repeat(50)).unwrap()),
        ("a folder in its place", |p| {
            fs::remove_file(p).unwrap();
            fs::create_dir(p).unwrap();
            fs::write(p.join("inside"), "something").unwrap();
        }),
    ];
    for (name, harm) in harms {
        let (dir, attempts) = profile();
        harm(&file(dir.path()));
        let before = fs::read(file(dir.path())).ok();
        let (why, aside, backup) = damaged(dir.path());
        assert!(!why.is_empty(), "{name}");
        assert_eq!(fs::read(file(dir.path())).ok(), before, "{name}: looking changes nothing");
        let backup = backup.unwrap_or_else(|| panic!("{name}: the backup is offered"));
        assert_eq!(backup.made_at, NOW, "{name}");
        assert!(aside.starts_with(dir.path()) && !aside.exists(), "{name}: {aside:?}");

        let done = Store::restore_backup(dir.path(), Instant(NOW.0 + DAY_MS)).unwrap();
        assert_eq!(done.from, Some(backup), "{name}");
        assert!(done.set_aside.contains(&aside), "{name}: {:?}", done.set_aside);
        assert_eq!(fs::read(&aside).ok(), before, "{name}: set aside as it was");
        let opened = open(dir.path());
        // All of the backup, and of what came after it what could be read.
        let kept = opened.store.attempts(None, 999).wait().unwrap();
        assert!(kept == attempts[..300] || kept == attempts, "{name}: {} are kept", kept.len());
        assert_eq!(kept.len() as u64, 300 + done.saved, "{name}");
    }
}

#[test]
fn a_profile_gone_missing_beside_its_backups_is_not_taken_for_a_new_one() {
    let (dir, attempts) = profile();
    fs::remove_file(file(dir.path())).unwrap();
    let (why, _, backup) = damaged(dir.path());
    assert!(why.contains("missing") && backup.is_some(), "{why}");
    let done = Store::restore_backup(dir.path(), NOW).unwrap();
    assert_eq!(done.set_aside, Vec::<PathBuf>::new(), "there was nothing to set aside");
    assert_eq!(open(dir.path()).attempts_count, attempts.len() as u64 - 1);
}

#[test]
fn some_other_programs_database_is_not_touched() {
    let dir = tempfile::tempdir().unwrap();
    let other = rusqlite::Connection::open(file(dir.path())).unwrap();
    other.execute_batch("CREATE TABLE stores_list (item TEXT); INSERT INTO stores_list VALUES ('gaskets')").unwrap();
    drop(other);
    let before = fs::read(file(dir.path())).unwrap();
    let (why, _, backup) = damaged(dir.path());
    assert!(why.contains("not a file of this program") && backup.is_none(), "{why}");
    assert_eq!(fs::read(file(dir.path())).unwrap(), before);
}

#[test]
fn a_table_that_is_gone_is_damage_too() {
    let (dir, _) = profile();
    rusqlite::Connection::open(file(dir.path())).unwrap().execute_batch("DROP TABLE fault").unwrap();
    let (why, _, backup) = damaged(dir.path());
    assert!(why.contains("`fault` is missing") && backup.is_some(), "{why}");
}

#[test]
fn only_a_good_backup_is_offered() {
    let (dir, _) = profile();
    // Two more starts with something new on each: three backups.
    for n in [500, 501] {
        let opened = open(dir.path());
        let a = attempt("later", n);
        opened.store.record(a.clone(), known(&a, 1)).wait().unwrap();
    }
    let backups = bedplate::store::backup::list(dir.path()).unwrap();
    assert_eq!(backups.len(), 4);
    overwrite(&backups[0].path, 8192, &[0x5A; 4096]);
    fs::write(&backups[1].path, b"").unwrap();
    overwrite(&file(dir.path()), 0, &[0; 100]);
    let (_, _, backup) = damaged(dir.path());
    assert_eq!(backup.as_ref(), Some(&backups[2]), "the newest that is whole");
    assert_eq!(Store::restore_backup(dir.path(), NOW).unwrap().from.as_ref(), Some(&backups[2]));
}

#[test]
fn with_no_backup_one_starts_afresh_and_nothing_is_deleted() {
    let (dir, _) = profile();
    for backup in bedplate::store::backup::list(dir.path()).unwrap() {
        overwrite(&backup.path, 0, &[0; 4096]);
    }
    overwrite(&file(dir.path()), 4096, &[0x5A; 8192]);
    let before = fs::read(file(dir.path())).unwrap();
    let (_, aside, backup) = damaged(dir.path());
    assert_eq!(backup, None);
    let refused = Store::restore_backup(dir.path(), NOW).unwrap_err();
    assert!(refused.to_string().contains("start afresh"), "{refused}");
    assert_eq!(fs::read(file(dir.path())).unwrap(), before, "a refusal moves nothing");

    let later = Instant(NOW.0 + DAY_MS);
    let done = Store::start_afresh(dir.path(), later).unwrap();
    assert_eq!(done.from, None);
    assert_eq!(fs::read(&aside).unwrap(), before);
    assert!(done.set_aside.iter().any(|p| p.is_dir() && fs::read_dir(p).unwrap().count() == 2), "{done:?}");
    let opened = open(dir.path());
    assert_eq!((opened.attempts_count, opened.created), (0, later));
    drop(opened);
    // A second time on the same second: another name, the first is still there.
    overwrite(&file(dir.path()), 0, &[0; 100]);
    let again = Store::start_afresh(dir.path(), later).unwrap();
    assert!(!again.set_aside.contains(&aside) && aside.exists(), "{again:?}");
    assert_eq!(fs::read(&aside).unwrap(), before);
}

#[test]
fn recovery_keeps_off_a_profile_in_use() {
    let (dir, _) = profile();
    let opened = open(dir.path());
    assert!(matches!(Store::restore_backup(dir.path(), NOW), Err(OpenError::InUse { .. })));
    assert!(matches!(Store::start_afresh(dir.path(), NOW), Err(OpenError::InUse { .. })));
    assert_eq!(opened.store.attempts(None, 999).wait().unwrap().len(), 301);
}

#[test]
fn the_log_goes_aside_with_its_file() {
    let (dir, attempts) = profile();
    // As after a kill: the last attempts are in the log only.
    let opened = open(dir.path());
    let a = attempt("late", 900);
    opened.store.record(a.clone(), known(&a, 1)).wait().unwrap();
    let log = fs::read(dir.path().join("profile.sqlite-wal")).unwrap();
    assert!(!log.is_empty());
    let copy = tempfile::tempdir().unwrap();
    fs::create_dir(copy.path().join("backups")).unwrap();
    for name in ["profile.sqlite", "profile.sqlite-wal"] {
        fs::copy(dir.path().join(name), copy.path().join(name)).unwrap();
    }
    for b in bedplate::store::backup::list(dir.path()).unwrap() {
        fs::copy(&b.path, copy.path().join("backups").join(b.path.file_name().unwrap())).unwrap();
    }
    drop(opened);
    assert_eq!(open(copy.path()).attempts_count, 302, "the log is read");
    fs::write(copy.path().join("profile.sqlite-wal"), &log).unwrap();
    overwrite(&file(copy.path()), 0, &[0; 100]);
    let (_, aside, _) = damaged(copy.path());
    let done = Store::restore_backup(copy.path(), Instant(NOW.0 + DAY_MS)).unwrap();
    let aside_log = PathBuf::from(format!("{}-wal", aside.display()));
    assert!(done.set_aside.contains(&aside_log));
    assert_eq!(fs::read(aside_log).unwrap(), log);
    let opened = open(copy.path());
    let kept = opened.store.attempts(None, 999).wait().unwrap();
    assert!(kept.len() >= 300 && kept[..300] == attempts[..300], "the old log does not run into the backup");
}

#[test]
fn a_log_of_noise_is_no_hindrance() {
    let (dir, attempts) = profile();
    fs::write(dir.path().join("profile.sqlite-wal"), [0xC3; 9000]).unwrap();
    let opened = open(dir.path());
    assert_eq!(opened.store.attempts(None, 999).wait().unwrap(), attempts);
}

#[test]
fn a_file_of_a_later_version_is_refused_and_left_as_it_is() {
    let (dir, _) = profile();
    let later = rusqlite::Connection::open(file(dir.path())).unwrap();
    later.execute_batch("CREATE TABLE of_the_future (x); PRAGMA user_version = 99").unwrap();
    later.close().unwrap();
    let before = fs::read(file(dir.path())).unwrap();
    for _ in 0..2 {
        match refused(dir.path()) {
            OpenError::Newer { found, known, path } => {
                assert_eq!((found, path), (99, file(dir.path())));
                assert!(known < 99);
            }
            other => panic!("{other}"),
        }
        assert_eq!(fs::read(file(dir.path())).unwrap(), before);
    }
    assert!(refused(dir.path()).to_string().contains("later version"));
}

#[test]
fn a_later_version_still_in_the_log_is_refused_too() {
    let (dir, _) = profile();
    let later = rusqlite::Connection::open(file(dir.path())).unwrap();
    later.execute_batch("PRAGMA user_version = 99").unwrap();
    // Copied before the log is folded in, as a kill of the later version would leave it.
    let copy = tempfile::tempdir().unwrap();
    for name in ["profile.sqlite", "profile.sqlite-wal"] {
        fs::copy(dir.path().join(name), copy.path().join(name)).unwrap();
    }
    let read = |name: &str| fs::read(copy.path().join(name)).unwrap();
    let before = (read("profile.sqlite"), read("profile.sqlite-wal"));
    assert!(matches!(refused(copy.path()), OpenError::Newer { found: 99, .. }));
    assert_eq!((read("profile.sqlite"), read("profile.sqlite-wal")), before);
}

#[test]
fn settings_that_make_no_sense_are_said_and_set_anew() {
    let (dir, attempts) = profile();
    let edited = rusqlite::Connection::open(file(dir.path())).unwrap();
    edited.execute("UPDATE settings SET json = '{\"minutes\": \"plenty\"}'", []).unwrap();
    edited.close().unwrap();
    let opened = open(dir.path());
    assert!(matches!(&opened.notices[..], [Notice::SettingsUnreadable { .. }]), "{:?}", opened.notices);
    assert_eq!(opened.settings.minutes, 30);
    assert_eq!(opened.attempts_count, attempts.len() as u64);
    drop(opened);
    let edited = rusqlite::Connection::open(file(dir.path())).unwrap();
    let wild = r#"{"minutes": 9000, "recall_target": 7.5, "ship": 99999, "scale_percent": 1}"#;
    edited.execute("UPDATE settings SET json = ?1", [wild]).unwrap();
    edited.close().unwrap();
    let s = open(dir.path()).settings;
    assert_eq!((s.minutes, s.recall_target, s.ship.minutes(), s.scale_percent), (120, 0.99, 0, 80));
}

#[test]
fn places_that_cannot_hold_a_profile_are_named() {
    let dir = tempfile::tempdir().unwrap();
    let in_the_way = dir.path().join("a-file");
    fs::write(&in_the_way, "x").unwrap();
    let error = refused(&in_the_way.join("k-vane"));
    assert!(matches!(&error, OpenError::Store(StoreError::Io { place, .. }) if place.starts_with(&in_the_way)));
    assert!(error.to_string().contains("a-file"), "{error}");
}

/// Rights do not bind the superuser, who may run these tests in a container: then there is nothing to see.
#[cfg(unix)]
#[test]
fn a_folder_without_the_right_to_write_is_named() {
    use std::os::unix::fs::PermissionsExt;
    let (dir, _) = profile();
    let set = |mode| fs::set_permissions(dir.path(), fs::Permissions::from_mode(mode)).unwrap();
    fs::remove_file(dir.path().join("profile.lock")).unwrap();
    set(0o555);
    let binds = fs::write(dir.path().join("probe"), "x").is_err();
    if binds {
        let error = refused(dir.path());
        assert!(matches!(error, OpenError::Store(StoreError::NotWritable { .. })), "{error:?}");
        assert!(error.to_string().contains("may not be written"), "{error}");
    }
    set(0o755);
}
