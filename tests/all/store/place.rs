//! The profile's place: a file that is moved under the open program, who may read it, who may open it.

use std::fs;
use std::path::{Path, PathBuf};

use bedplate::domain::day::Instant;
use bedplate::domain::settings::Settings;
use bedplate::store::{Notice, OpenError, Store, StoreError};

use super::basics::{NOW, attempt, known, open, options};

fn file(dir: &Path) -> PathBuf {
    dir.join("profile.sqlite")
}

/// What a program that synchronises or tidies files does under the open profile. Elsewhere than on Unix the system
/// itself forbids it.
#[cfg(unix)]
#[test]
fn an_answer_is_not_said_to_be_kept_when_the_file_has_gone() {
    type Harm = fn(&Path);
    let harms: [(&str, Harm); 5] = [
        ("removed", |d| fs::remove_file(file(d)).unwrap()),
        ("removed with its log", |d| {
            for name in ["profile.sqlite", "profile.sqlite-wal", "profile.sqlite-shm"] {
                fs::remove_file(d.join(name)).unwrap();
            }
        }),
        ("renamed", |d| fs::rename(file(d), d.join("profile (conflict).sqlite")).unwrap()),
        ("replaced by an older copy", |d| {
            fs::copy(d.join("older.sqlite"), d.join("older.new")).unwrap();
            fs::rename(d.join("older.new"), file(d)).unwrap();
        }),
        ("its log removed", |d| fs::remove_file(d.join("profile.sqlite-wal")).unwrap()),
    ];
    for (name, harm) in harms {
        let dir = tempfile::tempdir().unwrap();
        let first = attempt("drain", 0);
        open(dir.path()).store.record(first.clone(), known(&first, 1)).wait().unwrap();
        fs::copy(file(dir.path()), dir.path().join("older.sqlite")).unwrap();
        let opened = open(dir.path());
        let second = attempt("drain", 1);
        opened.store.record(second.clone(), known(&second, 2)).wait().unwrap();
        harm(dir.path());
        let third = attempt("drain", 2);
        for _ in 0..2 {
            match opened.store.record(third.clone(), known(&third, 3)).wait() {
                Err(error @ StoreError::Moved { copy: Some(_), .. }) => {
                    let words = error.to_string();
                    assert!(words.contains("could not keep the answer") && words.contains("start it again"), "{words}");
                }
                other => panic!("{name}: {other:?}"),
            }
        }
        let changed = Settings { minutes: 55, ..Settings::default() };
        assert!(matches!(opened.store.save_settings(&changed, NOW).wait(), Err(StoreError::Moved { .. })), "{name}");
        assert_eq!(opened.store.attempts(None, 9).wait().unwrap().len(), 2, "{name}: reading goes on");
        drop(opened);

        let opened = open(dir.path());
        let kept = opened.store.attempts(None, 9).wait().unwrap();
        assert_eq!(kept, [first, second], "{name}: what was said to be kept is there");
        opened.store.record(third.clone(), known(&third, 3)).wait().unwrap();
        drop(opened);
        let opened = open(dir.path());
        assert_eq!(opened.attempts_count, 3, "{name}");
        assert!(!opened.notices.iter().any(|n| matches!(n, Notice::TakenIn { .. })), "{name}: taken in once");
        let copies = fs::read_dir(dir.path())
            .unwrap()
            .filter(|e| e.as_ref().unwrap().file_name().to_string_lossy().ends_with(".taken-in"));
        assert_eq!(copies.count(), 1, "{name}: the copy stays");
    }
}

#[cfg(unix)]
#[test]
fn what_came_from_the_copy_is_said() {
    let dir = tempfile::tempdir().unwrap();
    drop(open(dir.path()));
    fs::copy(file(dir.path()), dir.path().join("older.sqlite")).unwrap();
    let opened = open(dir.path());
    for n in 0..3 {
        let a = attempt("drain", n);
        opened.store.record(a.clone(), known(&a, 1)).wait().unwrap();
    }
    fs::rename(dir.path().join("older.sqlite"), file(dir.path())).unwrap();
    let a = attempt("drain", 9);
    assert!(opened.store.record(a.clone(), known(&a, 1)).wait().is_err());
    drop(opened);
    let opened = open(dir.path());
    assert!(opened.notices.contains(&Notice::TakenIn { answers: 3 }), "{:?}", opened.notices);
    assert_eq!((opened.attempts_count, opened.stamp), (3, None), "and the memory is worked out anew");
}

#[cfg(unix)]
fn modes(dir: &Path) -> Vec<(PathBuf, u32)> {
    use std::os::unix::fs::PermissionsExt;
    let mut all = vec![(dir.to_owned(), fs::metadata(dir).unwrap().permissions().mode() & 0o777)];
    for entry in fs::read_dir(dir).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            all.extend(modes(&path));
        } else {
            let mode = fs::metadata(&path).unwrap().permissions().mode() & 0o777;
            all.push((path, mode));
        }
    }
    all
}

/// Nobody but its owner may read a profile, its backups and its recordings: new ones, and those of an earlier version.
#[cfg(unix)]
#[test]
fn a_profile_is_its_owners_alone() {
    use std::os::unix::fs::PermissionsExt;
    let home = tempfile::tempdir().unwrap();
    let profiles = home.path().join("profiles");
    let info = bedplate::store::profiles::create(home.path(), "K. Vane").unwrap();
    let dir = profiles.join(&info.folder);
    let opened = open(&dir);
    let a = attempt("drain", 0);
    opened.store.record(a.clone(), known(&a, 1)).wait().unwrap();
    opened.store.index_decks(vec![]).wait().unwrap();
    while bedplate::store::backup::list(&dir).unwrap().is_empty() {
        std::thread::yield_now();
    }
    let open_to_others = |dir: &Path| modes(dir).into_iter().filter(|(_, mode)| mode & 0o077 != 0).collect::<Vec<_>>();
    assert_eq!(open_to_others(&profiles), vec![], "also while it is open: the logs and the lock");
    assert!(modes(&profiles).len() >= 8, "{:?}", modes(&profiles));
    drop(opened);
    // As an earlier version left it.
    fs::create_dir(dir.join("recordings")).unwrap();
    fs::write(dir.join("recordings/a.wav"), "spoken").unwrap();
    for (path, _) in modes(&profiles) {
        let mode = if path.is_dir() { 0o755 } else { 0o644 };
        fs::set_permissions(&path, fs::Permissions::from_mode(mode)).unwrap();
    }
    let elsewhere = home.path().join("elsewhere");
    fs::write(&elsewhere, "not ours").unwrap();
    fs::set_permissions(&elsewhere, fs::Permissions::from_mode(0o644)).unwrap();
    std::os::unix::fs::symlink(&elsewhere, dir.join("link")).unwrap();
    // What is not the program's stays as it is, and so does a folder that is not under `profiles`.
    let notes = dir.join("my notes.txt");
    fs::write(&notes, "not ours").unwrap();
    fs::set_permissions(&notes, fs::Permissions::from_mode(0o755)).unwrap();
    drop(open(&dir));
    assert_eq!(fs::metadata(&notes).unwrap().permissions().mode() & 0o777, 0o755);
    fs::remove_file(&notes).unwrap();
    fs::remove_file(dir.join("link")).unwrap();
    assert_eq!(open_to_others(&profiles), vec![]);
    assert_eq!(modes(&dir.join("recordings")).iter().map(|m| m.1).collect::<Vec<_>>(), [0o700, 0o600]);
    let mode = fs::metadata(&elsewhere).unwrap().permissions().mode() & 0o777;
    assert_eq!(mode, 0o644, "links are not followed");
    let named = home.path().join("named");
    fs::create_dir(&named).unwrap();
    fs::set_permissions(&named, fs::Permissions::from_mode(0o755)).unwrap();
    drop(open(&named));
    assert_eq!(fs::metadata(&named).unwrap().permissions().mode() & 0o777, 0o755);
    let mode = fs::metadata(named.join("profile.sqlite")).unwrap().permissions().mode() & 0o777;
    assert_eq!(mode, 0o600);
}

/// The lock file tidied away: still nobody else gets in.
#[cfg(unix)]
#[test]
fn removing_the_lock_file_lets_nobody_in() {
    let dir = tempfile::tempdir().unwrap();
    let opened = open(dir.path());
    fs::remove_file(dir.path().join("profile.lock")).unwrap();
    for _ in 0..2 {
        assert!(matches!(Store::open(options(dir.path(), NOW)), Err(OpenError::InUse { .. })));
    }
    drop(opened);
    drop(open(dir.path()));
}

/// Killed while the file had no write-ahead log yet: what was half done is undone, and the profile opens.
#[test]
fn a_journal_left_by_a_kill_is_undone() {
    let dir = tempfile::tempdir().unwrap();
    let opened = open(dir.path());
    let all: Vec<_> = (0..200).map(|n| attempt(&format!("card-{}", n % 9), n)).collect();
    opened.store.unite(all.clone()).wait().unwrap();
    drop(opened);
    let copy = tempfile::tempdir().unwrap();
    {
        let mut conn = rusqlite::Connection::open(file(dir.path())).unwrap();
        conn.query_row("PRAGMA journal_mode = DELETE", [], |_| Ok(())).unwrap();
        // A cache of few pages, so that the half-done change is in the file already.
        conn.execute_batch("PRAGMA cache_size = 3; PRAGMA cache_spill = 3").unwrap();
        let tx = conn.transaction().unwrap();
        for n in 0..3000 {
            tx.execute("INSERT INTO fault (card, at_ms, note) VALUES ('marram-light/x', ?1, 'half done')", [n])
                .unwrap();
        }
        for name in ["profile.sqlite", "profile.sqlite-journal"] {
            fs::copy(dir.path().join(name), copy.path().join(name)).unwrap();
        }
        tx.rollback().unwrap();
    }
    let journal = fs::metadata(copy.path().join("profile.sqlite-journal")).unwrap().len();
    assert!(journal > 0, "there is something to undo");
    let opened = Store::open(options(copy.path(), Instant(NOW.0 + 1))).unwrap_or_else(|e| panic!("{e}"));
    assert_eq!((opened.attempts_count, opened.faults.len()), (200, 0));
}

#[test]
fn an_answer_without_end_is_refused_by_the_store() {
    let dir = tempfile::tempdir().unwrap();
    let opened = open(dir.path());
    let mut a = attempt("drain", 0);
    a.evidence.given = bedplate::domain::answer::Given::Text("x".repeat(2 << 20));
    match opened.store.record(a.clone(), known(&a, 1)).wait() {
        Err(StoreError::Refused { why, .. }) => assert!(why.contains("1 MB"), "{why}"),
        other => panic!("{other:?}"),
    }
}
