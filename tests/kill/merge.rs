//! The program killed at any moment of bringing a profile's file in: all of it is there, or nothing.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::Arc;
use std::time::Duration;

use bedplate::domain::attempt::{SetAside, Until};
use bedplate::domain::day::Instant;
use bedplate::domain::ids::CardKey;
use bedplate::store::{OpenOptions, Opened, Store};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use crate::kills;
use crate::store::{NOW, attempt};

/// As many as the full job makes.
const KILLS: usize = 120;
const BEFORE: u64 = 40;
const MORE: u64 = 2_500;

fn open(dir: &Path) -> Opened {
    let options = OpenOptions { dir: dir.to_owned(), now: NOW, wake: Arc::new(|| {}) };
    Store::open(options).unwrap_or_else(|e| panic!("{e}"))
}

fn merge(home: &Path, profile: &Path, file: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_bedplate"));
    command.arg("merge").arg(file).arg("--profile").arg(profile).env("BEDPLATE_HOME", home);
    command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    command
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let to = to.join(entry.file_name());
        if entry.file_type().unwrap().is_dir() {
            copy(&entry.path(), &to)
        } else {
            fs::copy(entry.path(), to).unwrap();
        }
    }
}

/// The profile before, and the file that has more of the same learner.
fn prepared(home: &Path) -> (std::path::PathBuf, std::path::PathBuf) {
    let (here, elsewhere) = (home.join("before"), home.join("elsewhere"));
    let all = |from: u64, to: u64| (from..to).map(|n| attempt(&format!("card-{}", n % 9), n as i64)).collect();
    let opened = open(&here);
    opened.store.unite(all(0, BEFORE)).wait().unwrap();
    let first = opened.store.write_profile(home.join("first.profile"), NOW).wait().unwrap();
    drop(opened);
    let other = open(&elsewhere).store;
    other.bring(first, false, NOW).wait().unwrap();
    other.unite(all(BEFORE, BEFORE + MORE)).wait().unwrap();
    let aside =
        SetAside { card: CardKey::new("marram-light", "card-1"), at: Instant(NOW.0 + 9), until: Until::ForGood };
    other.set_aside(aside).wait().unwrap();
    let file = other.write_profile(home.join("second.profile"), NOW).wait().unwrap();
    (here, file.file)
}

#[test]
fn a_killed_merge_is_whole_or_nothing() {
    let home = tempfile::tempdir().unwrap();
    let (before, file) = prepared(home.path());
    let profile = home.path().join("profiles/cadet");
    let mut random = StdRng::seed_from_u64(20_261_201);
    // How long one takes that is left in peace.
    copy(&before, &profile);
    let began = std::time::Instant::now();
    assert!(merge(home.path(), &profile, &file).status().unwrap().success());
    let whole = began.elapsed();
    let (mut nothing, mut all) = (0, 0);
    let rounds = kills(KILLS);
    for _ in 0..rounds {
        fs::remove_dir_all(&profile).unwrap();
        copy(&before, &profile);
        let mut child = merge(home.path(), &profile, &file).spawn().unwrap();
        std::thread::sleep(Duration::from_micros(random.random_range(0..whole.as_micros() as u64)));
        child.kill().unwrap();
        child.wait().unwrap();
        let opened = open(&profile);
        let attempts = opened.store.attempts(None, usize::MAX).wait().unwrap();
        assert_eq!(opened.attempts_count, attempts.len() as u64);
        match (opened.attempts_count, opened.set_aside.len()) {
            (BEFORE, 0) => nothing += 1,
            (count, 1) if count == BEFORE + MORE => all += 1,
            part => panic!("a part was brought in: {part:?}"),
        }
        if opened.stamp.is_some() {
            let seen: u64 = opened.memory.iter().map(|(_, known)| u64::from(known.seen)).sum();
            assert_eq!(seen, opened.attempts_count, "what was worked out is of these answers");
        }
        drop((attempts, opened));
        let conn = rusqlite::Connection::open(profile.join("profile.sqlite")).unwrap();
        let told: String = conn.query_row("PRAGMA integrity_check", [], |row| row.get(0)).unwrap();
        assert_eq!(told, "ok");
    }
    assert!(nothing > 0, "some kills must come before the end: {nothing} and {all} of {rounds}");
    // The last one is done again, and comes to its end.
    assert!(merge(home.path(), &profile, &file).status().unwrap().success());
    assert_eq!(open(&profile).attempts_count, BEFORE + MORE);
}
