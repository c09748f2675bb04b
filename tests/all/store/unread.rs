//! Damage inside the profile's file: a row that makes no sense is left out and said; of a damaged file all that can
//! still be read is brought into the backup that takes its place.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use bedplate::domain::answer::Given;
use bedplate::domain::attempt::{Attempt, Evidence};
use bedplate::domain::day::Instant;
use bedplate::domain::memory::model::Model;
use bedplate::domain::memory::replay::replay_card;
use bedplate::store::{KeptEvent, Notice, OpenError, Store, backup};

use super::basics::{NOW, attempt, known, open, options};

const DAY_MS: i64 = 86_400_000;
const PAGE: usize = 4096;

fn file(dir: &Path) -> PathBuf {
    dir.join("profile.sqlite")
}

/// The `n`-th answer, with a text that no other has.
fn answer(n: usize) -> Attempt {
    let a = attempt(&format!("card-{}", n % 40), n as i64);
    let given = Given::Text(format!("answer {n:04}: the drain, slowly, until it blows clear"));
    Attempt { evidence: Evidence { given, ..a.evidence.clone() }, ..a }
}

fn profile(dir: &Path, answers: usize) -> Vec<Attempt> {
    let all: Vec<Attempt> = (0..answers).map(answer).collect();
    let opened = open(dir);
    let tickets: Vec<_> = all.iter().map(|a| opened.store.record(a.clone(), known(a, 1))).collect();
    tickets.into_iter().for_each(|t| t.wait().unwrap());
    all
}

/// Overwrites the first byte of an answer's evidence in the file, as a failing disk may.
fn spoil(file: &Path, n: usize) {
    let mut bytes = fs::read(file).unwrap();
    let begins = format!("{{\"text\":\"answer {n:04}");
    // Everywhere: pages keep stale bytes of rows that have moved.
    let at: Vec<usize> = (0..bytes.len()).filter(|at| bytes[*at..].starts_with(begins.as_bytes())).collect();
    assert!(!at.is_empty(), "the answer is in the file");
    at.into_iter().for_each(|at| bytes[at] = 0x7f);
    fs::write(file, bytes).unwrap();
}

fn ids(attempts: &[Attempt]) -> BTreeSet<String> {
    attempts.iter().map(|a| a.id.0.clone()).collect()
}

#[test]
fn an_answer_that_cannot_be_read_is_left_out_and_said_once() {
    let dir = tempfile::tempdir().unwrap();
    let all = profile(dir.path(), 60);
    spoil(&file(dir.path()), 7);
    let rest: Vec<Attempt> = all.iter().filter(|a| a.id != all[7].id).cloned().collect();
    let opened = open(dir.path());
    assert_eq!(opened.store.attempts(None, 999).wait().unwrap(), rest);
    assert_eq!(opened.store.list_attempts(None, 3).wait().unwrap().len(), 3);
    let said = |store: &Store| -> Vec<Notice> {
        store.take_notices().into_iter().filter(|n| matches!(n, Notice::Unreadable { .. })).collect()
    };
    let notices = said(&opened.store);
    assert_eq!(notices, [Notice::Unreadable { answers: 1, others: 0 }]);
    let words = notices[0].to_string();
    assert!(words.starts_with("1 answer in these records cannot be read and is left out."), "{words}");
    // Every way to read works, and it is not said again.
    assert_eq!(opened.store.fold_attempts(0, |n, _| *n += 1).wait(), Ok(59));
    assert_eq!(opened.store.attempts_of(all[7].card.clone()).wait().unwrap().len(), 1);
    assert_eq!(opened.store.attempts_between(NOW, Instant(i64::MAX)).wait().unwrap().len(), 59);
    assert_eq!(said(&opened.store), []);
    // The work goes on beside it: answers, and taking back one at the same card.
    let more = answer(60);
    opened.store.record(more.clone(), known(&more, 1)).wait().unwrap();
    let model = Model::standard(0.9);
    let told = opened.store.void_attempts(vec![all[47].id.clone()], NOW, move |left| replay_card(&model, left));
    assert_eq!(told.wait().unwrap(), [(all[7].card.clone(), None)]);
    drop(opened);
    let bytes = fs::read(file(dir.path())).unwrap();
    let spoilt = b"\x7f\"text\":\"answer 0007";
    assert!(bytes.windows(spoilt.len()).any(|w| w == spoilt), "it stays in the file as it is");
    // A second one: both are said at the next start.
    spoil(&file(dir.path()), 9);
    let opened = open(dir.path());
    assert_eq!(opened.store.attempts(None, 999).wait().unwrap().len(), 58);
    assert_eq!(said(&opened.store), [Notice::Unreadable { answers: 2, others: 0 }]);
}

/// Other rows that make no sense do not keep the profile shut either.
#[test]
fn other_rows_that_cannot_be_read_are_left_out_too() {
    let dir = tempfile::tempdir().unwrap();
    profile(dir.path(), 3);
    let conn = rusqlite::Connection::open(file(dir.path())).unwrap();
    conn.execute_batch(
        "PRAGMA ignore_check_constraints = ON;
         INSERT INTO set_aside (card, at_ms, until, day) VALUES ('no key', 1, 'for-good', NULL);
         INSERT INTO fault (card, at_ms, note) VALUES ('no key', 1, 'x');
         INSERT INTO sitting (id, at_ms, ship_minutes, device, setup) VALUES ('s', 1, 0, 'd', '{nothing');
         INSERT INTO card_memory VALUES ('no key', 1, 1, 1, 1, 1, 1, 1, 1, 1, 1);",
    )
    .unwrap();
    conn.close().unwrap();
    let opened = open(dir.path());
    assert_eq!((opened.set_aside.len(), opened.faults.len(), opened.memory.len()), (0, 0, 0));
    assert_eq!(opened.stamp, None, "the memory is worked out anew");
    assert_eq!(opened.store.sittings().wait(), Ok(vec![]));
    let notices = opened.store.take_notices();
    assert!(notices.contains(&Notice::Unreadable { answers: 0, others: 3 }), "{notices:?}");
}

#[test]
fn a_backup_that_can_be_read_is_not_pushed_out_by_damaged_ones() {
    let dir = tempfile::tempdir().unwrap();
    let all = profile(dir.path(), 30);
    drop(open(dir.path()));
    let good = backup::list(dir.path()).unwrap()[0].clone();
    spoil(&file(dir.path()), 5);
    for day in 1..12 {
        let opened = Store::open(options(dir.path(), Instant(NOW.0 + day * DAY_MS))).unwrap();
        let a = answer(100 + day as usize);
        opened.store.record(a.clone(), known(&a, 1)).wait().unwrap();
    }
    let kept = backup::list(dir.path()).unwrap();
    assert!(kept.contains(&good), "{kept:?}");
    assert_eq!(kept.len(), backup::KEPT + 1, "beside the seven newest");
    // Restored from, with all that came after it: nothing is missing, the spoilt answer least of all.
    let mut bytes = fs::read(file(dir.path())).unwrap();
    bytes[..100].fill(0);
    fs::write(file(dir.path()), bytes).unwrap();
    let done = Store::restore_backup(dir.path(), NOW).unwrap();
    assert_eq!(done.from, Some(good));
    let restored = ids(&open(dir.path()).store.attempts(None, 999).wait().unwrap());
    assert!(ids(&all).is_subset(&restored));
    assert_eq!(restored.len(), 30 + 10, "the last answer was in the destroyed file alone");
    assert_eq!(done.saved, 10);
}

/// SplitMix64 (public domain, Vigna 2015).
struct Random(u64);

impl Random {
    fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) % n as u64) as usize
    }
}

/// What a plain SELECT reads of a file, in the table's order, until it fails.
fn selected(file: &Path) -> BTreeSet<String> {
    let mut all = BTreeSet::new();
    let flags = rusqlite::OpenFlags::SQLITE_OPEN_READ_ONLY;
    let Ok(conn) = rusqlite::Connection::open_with_flags(file, flags) else { return all };
    let Ok(mut statement) = conn.prepare("SELECT id, evidence FROM attempt NOT INDEXED") else { return all };
    let Ok(mut rows) = statement.query([]) else { return all };
    while let Ok(Some(row)) = rows.next() {
        let evidence: String = row.get(1).unwrap_or_default();
        if serde_json::from_str::<Evidence>(&evidence).is_ok() {
            all.extend(row.get::<_, String>(0));
        }
    }
    all
}

/// One or two pages set to zero at seeded places of a profile of 700 answers whose backup holds 571: after the recovery
/// that is offered, every answer is there that the backup held or that a plain SELECT could read.
#[test]
fn what_can_be_read_of_a_damaged_file_is_brought_into_the_backup() {
    let dir = tempfile::tempdir().unwrap();
    let mut all = profile(dir.path(), 571);
    let opened = open(dir.path());
    for n in 571..700 {
        let a = answer(n);
        opened.store.record(a.clone(), known(&a, 1)).wait().unwrap();
        all.push(a);
    }
    let event = KeptEvent { at: NOW, json: "{\"passed\":true}".to_owned() };
    opened.store.add_event("oral-result", event.clone()).wait().unwrap();
    drop(opened);
    let (whole, good) = (fs::read(file(dir.path())).unwrap(), backup::list(dir.path()).unwrap()[0].clone());
    let in_backup = ids(&all[..571]);
    let pages = whole.len() / PAGE;
    let mut random = Random(20_261_130);
    let (mut saved, mut could, mut events, mut restored) = (0, 0, 0, 0);
    let runs = 70;
    for run in 0..runs {
        let hurt = tempfile::tempdir().unwrap();
        fs::create_dir(hurt.path().join("backups")).unwrap();
        fs::copy(&good.path, hurt.path().join("backups").join(good.path.file_name().unwrap())).unwrap();
        let mut bytes = whole.clone();
        for _ in 0..=run % 2 {
            let page = random.below(pages);
            bytes[page * PAGE..(page + 1) * PAGE].fill(0);
        }
        fs::write(file(hurt.path()), bytes).unwrap();
        let readable = selected(&file(hurt.path()));
        let opened = match Store::open(options(hurt.path(), NOW)) {
            Ok(opened) => opened,
            Err(OpenError::Damaged { newest_good_backup, .. }) => {
                assert!(newest_good_backup.is_some(), "run {run}");
                Store::restore_backup(hurt.path(), NOW).unwrap();
                restored += 1;
                open(hurt.path())
            }
            Err(other) => panic!("run {run}: {other}"),
        };
        let kept = opened.store.attempts(None, 9_999).wait().unwrap();
        assert!(kept.iter().all(|a| all.contains(a)), "run {run}: an answer that was never given");
        let kept = ids(&kept);
        assert!(in_backup.is_subset(&kept) || readable.is_subset(&kept), "run {run}");
        assert!(readable.is_subset(&kept), "run {run}: {} readable, {} kept", readable.len(), kept.len());
        assert!(restored == 0 || in_backup.len() <= kept.len(), "run {run}");
        events += usize::from(opened.store.events("oral-result").wait().unwrap() == [event.clone()]);
        saved += kept.len();
        could += readable.len();
    }
    assert!(restored > runs / 2, "most pages matter: {restored} of {runs} damages had to be restored");
    let told =
        format!("{saved} of {} answers kept, {could} of them by a plain SELECT, the event in {events}", runs * 700);
    assert!(saved * 1000 >= runs * 700 * 980, "{told}");
    assert!(saved >= could, "{told}");
}

/// A damaged index of an older version, in the profile's own file, costs no answer either.
#[test]
fn damage_in_an_older_files_index_costs_no_answer() {
    let stored = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/store/profile-v3.sqlite");
    let dir = tempfile::tempdir().unwrap();
    fs::create_dir(dir.path().join("backups")).unwrap();
    fs::copy(&stored, dir.path().join("backups/000001-2026-11-26-080000Z.sqlite")).unwrap();
    let conn = rusqlite::Connection::open(&stored).unwrap();
    let root: u32 = conn
        .query_row("SELECT rootpage FROM sqlite_schema WHERE name = 'search_word_data'", [], |row| row.get(0))
        .unwrap();
    drop(conn);
    let mut bytes = fs::read(&stored).unwrap();
    let end = root as usize * PAGE;
    bytes[end - PAGE..end].fill(0);
    fs::write(file(dir.path()), bytes).unwrap();
    let readable = selected(&file(dir.path()));
    assert_eq!(readable.len(), 54);
    if let Err(error) = Store::open(options(dir.path(), NOW)) {
        assert!(matches!(error, OpenError::Damaged { .. }), "{error}");
        Store::restore_backup(dir.path(), NOW).unwrap();
    }
    assert_eq!(ids(&open(dir.path()).store.attempts(None, 999).wait().unwrap()), readable);
}

/// The commands give all the rest, and say on the error output what is missing.
#[test]
fn commands_use_the_rest_and_say_so() {
    let home = tempfile::tempdir().unwrap();
    let dir = home.path().join("profiles/k-vane");
    profile(&dir, 20);
    spoil(&file(&dir), 19);
    let run = |args: &[&str]| {
        let out = Command::new(env!("CARGO_BIN_EXE_bedplate"))
            .args(args)
            .arg("--profile")
            .arg(&dir)
            .env("BEDPLATE_HOME", home.path())
            .output()
            .unwrap();
        let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
        (out.status.success(), text(&out.stdout), text(&out.stderr))
    };
    let (good, out, err) = run(&["export", "attempts", "--json"]);
    assert!(good && out.lines().count() == 19, "{err}");
    assert!(err.contains("1 answer in these records cannot be read"), "{err}");
    let (good, out, err) = run(&["ready", "--json"]);
    assert!(good && out.contains("chance_today"), "{err}");
    assert!(err.contains("1 answer in these records cannot be read"), "{err}");
}
