//! A program killed at any moment, by `kill -9`, many times on one profile: no attempt that it had
//! moved on from is lost or doubled, the file stays sound and the memory cache fits its attempts.
//!
//! The program is this test binary itself, started again with an environment variable that makes `the_program`
//! record attempts without end. It prints an attempt's id only once its ticket says that it is kept.

use std::collections::{BTreeMap, HashSet};
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

use bedplate::domain::answer::Given;
use bedplate::domain::attempt::{Attempt, Evidence};
use bedplate::domain::day::{Instant, ShipOffset};
use bedplate::domain::ids::CardKey;
use bedplate::domain::memory::CardMemory;
use bedplate::domain::outcome::{Notch, Outcome};
use bedplate::store::{OpenOptions, Opened, Store, ids};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use crate::kills;

const DIR: &str = "BEDPLATE_TEST_KILLED_PROFILE";
/// As many as the full job makes: one in six while it is still starting, the others after its first words.
const KILLS: usize = 240;
/// 2026-11-25T08:00Z.
pub const NOW: Instant = Instant(1_795_593_600_000);
const CARDS: usize = 9;

fn options(dir: &Path, now: Instant) -> OpenOptions {
    OpenOptions { dir: dir.to_owned(), now, wake: Arc::new(|| {}) }
}

/// An attempt at a card, `n` seconds after [`NOW`].
pub fn attempt(card: &str, n: i64) -> Attempt {
    let at = Instant(NOW.0 + n * 1000);
    Attempt {
        id: ids::new_attempt_id(at),
        card: CardKey::new("marram-light", card),
        at,
        ship: ShipOffset::from_minutes(-570).unwrap(),
        device: "device-of-the-test".to_owned(),
        evidence: Evidence {
            given: Given::Text("open the drain “slowly”, then 7 bar\n".to_owned()),
            edition: 3,
            points_said: vec![1, 3],
            points_missed: vec![2],
        },
        outcome: Outcome::Prompted,
        notch: Notch::Up,
        seconds: 12.345,
    }
}

/// What is known of a card after one more attempt; any rule would do, if it depends on all attempts before.
fn next(before: Option<CardMemory>, a: &Attempt) -> CardMemory {
    let seen = before.map_or(0, |m| m.seen) + 1;
    let missed = a.final_outcome() == Outcome::Missed;
    CardMemory {
        stability: before.map_or(0.0, |m| m.stability) * 0.5 + a.seconds as f32,
        difficulty: 5.0,
        last_day: a.day(),
        last_at: a.at,
        due: a.day().plus(seen),
        seen,
        slips: before.map_or(0, |m| m.slips) + u32::from(missed),
        misses_in_a_row: if missed { before.map_or(0, |m| m.misses_in_a_row) + 1 } else { 0 },
        last: a.final_outcome(),
        seconds_total: before.map_or(0.0, |m| m.seconds_total) + a.seconds,
    }
}

/// Does nothing unless the test below starts it.
#[test]
#[ignore = "the program that the kill test starts"]
fn the_program() {
    let Some(dir) = std::env::var_os(DIR).map(PathBuf::from) else { return };
    let opened = Store::open(options(&dir, NOW)).unwrap_or_else(|e| panic!("{e}"));
    let mut memory: BTreeMap<String, CardMemory> =
        opened.memory.iter().map(|(card, m)| (card.to_string(), *m)).collect();
    let mut out = std::io::stdout();
    writeln!(out, "\nopened {}", opened.attempts_count).unwrap();
    for n in opened.attempts_count.. {
        let mut a = attempt(&format!("card-{}", n as usize % CARDS), n as i64);
        a.outcome = Outcome::ALL[n as usize % 4];
        a.seconds = (n % 97) as f64 + 0.25;
        let known = next(memory.get(&a.card.to_string()).copied(), &a);
        let id = a.id.0.clone();
        memory.insert(a.card.to_string(), known);
        opened.store.record(a, known).wait().unwrap_or_else(|e| panic!("{e}"));
        writeln!(out, "kept {id}").unwrap();
        // Other work that a watch does now and then, so that kills fall into it as well.
        match n % 40 {
            11 => opened.store.save_settings(&opened.settings, NOW).wait().unwrap(),
            23 => {
                let all = memory.iter().map(|(card, m)| (CardKey::parse(card).unwrap(), *m)).collect();
                opened.store.replace_memory(format!("stamp {n}"), all).wait().unwrap();
            }
            _ => {}
        }
    }
}

struct Program {
    child: Child,
    lines: Receiver<String>,
}

impl Program {
    fn start(dir: &Path) -> Self {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "store::the_program", "--ignored", "--nocapture", "--test-threads=1"])
            .env(DIR, dir)
            .stdout(Stdio::piped())
            .stderr(Stdio::inherit())
            .spawn()
            .unwrap();
        let out = BufReader::new(child.stdout.take().unwrap());
        let (tx, lines) = channel();
        std::thread::spawn(move || out.lines().map_while(Result::ok).try_for_each(|line| tx.send(line)));
        Self { child, lines }
    }

    /// Waits for its first kept attempt.
    fn first_word(&self) -> String {
        self.lines.iter().find(|line| line.starts_with("kept ")).expect("the program opens the profile and works")
    }

    /// `kill -9`; gives what it still said.
    fn kill(mut self) -> Vec<String> {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
        // The pipe keeps what was written before the kill; a last line cut short says nothing.
        self.lines.iter().collect()
    }
}

fn ids_of(lines: impl IntoIterator<Item = String>) -> impl Iterator<Item = String> {
    lines.into_iter().filter_map(|line| line.strip_prefix("kept ").filter(|id| id.len() == 36).map(str::to_owned))
}

/// Every id printed is kept, none twice, and the cache is what these attempts give.
fn check(opened: &Opened, printed: &[String]) {
    let kept = opened.store.attempts(None, usize::MAX).wait().unwrap();
    let ids: HashSet<&str> = kept.iter().map(|a| a.id.0.as_str()).collect();
    assert_eq!(ids.len(), kept.len(), "an attempt is doubled");
    let lost: Vec<_> = printed.iter().filter(|id| !ids.contains(id.as_str())).collect();
    assert!(lost.is_empty(), "{} of {} attempts lost: {lost:?}", lost.len(), printed.len());
    let mut replayed: BTreeMap<String, CardMemory> = BTreeMap::new();
    for a in &kept {
        let known = next(replayed.get(&a.card.to_string()).copied(), a);
        replayed.insert(a.card.to_string(), known);
    }
    let cached: BTreeMap<String, CardMemory> = opened.memory.iter().map(|(c, m)| (c.to_string(), *m)).collect();
    assert_eq!(cached, replayed, "the cache does not fit the attempts");
}

#[test]
fn nothing_kept_is_lost_by_killing_the_program() {
    let dir = tempfile::tempdir().unwrap();
    kill_again_and_again(dir.path(), kills(KILLS));
}

/// As on a file system where no write-ahead log can be had: what stands in the place of its `-shm` files is in the way.
#[test]
fn nor_where_no_log_can_be_had() {
    let dir = tempfile::tempdir().unwrap();
    for name in ["profile.sqlite-shm", "profile.probe-shm"] {
        std::fs::create_dir(dir.path().join(name)).unwrap();
    }
    kill_again_and_again(dir.path(), kills(KILLS / 2));
    let head = std::fs::read(dir.path().join("profile.sqlite")).unwrap();
    assert_eq!(head[18..20], [1, 1], "it was written without a log");
}

fn kill_again_and_again(dir: &Path, rounds: usize) {
    let mut random = StdRng::seed_from_u64(20_261_125);
    let mut printed: Vec<String> = Vec::new();
    for kill in 0..rounds {
        let program = Program::start(dir);
        if kill % 6 == 5 {
            // Somewhere in its start: process, look at the file, log read back, backup.
            std::thread::sleep(Duration::from_micros(random.random_range(0..25_000)));
        } else {
            printed.extend(ids_of([program.first_word()]));
            std::thread::sleep(Duration::from_micros(random.random_range(1_000..60_000)));
        }
        printed.extend(ids_of(program.kill()));
        if kill % 60 == 30 {
            check(&Store::open(options(dir, NOW)).unwrap_or_else(|e| panic!("{e}")), &printed);
        }
    }
    let opened = Store::open(options(dir, Instant(NOW.0 + 1))).unwrap_or_else(|e| panic!("{e}"));
    check(&opened, &printed);
    assert!(printed.len() > rounds - rounds / 6, "the program worked between the kills");
    drop(opened);
    let file = rusqlite::Connection::open(dir.join("profile.sqlite")).unwrap();
    let told: String = file.query_row("PRAGMA integrity_check", [], |r| r.get(0)).unwrap();
    assert_eq!(told, "ok");
    // All backups that the starts made are whole as well, and no half-made one is left.
    for entry in std::fs::read_dir(dir.join("backups")).unwrap() {
        let path = entry.unwrap().path();
        assert_eq!(path.extension().and_then(|e| e.to_str()), Some("sqlite"), "{path:?}");
        let backup = rusqlite::Connection::open(&path).unwrap();
        let told: String = backup.query_row("PRAGMA integrity_check", [], |r| r.get(0)).unwrap();
        assert_eq!(told, "ok", "{path:?}");
    }
}
