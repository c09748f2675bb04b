//! The store: what is recorded is read back, whole, in order and once; handles, threads and ids.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

use bedplate::domain::answer::Given;
use bedplate::domain::attempt::{Attempt, Evidence, SetAside, Until};
use bedplate::domain::certificate::Certificate;
use bedplate::domain::day::{Instant, ShipOffset, StudyDay};
use bedplate::domain::ids::{AttemptId, CardKey};
use bedplate::domain::memory::CardMemory;
use bedplate::domain::outcome::{Notch, Outcome};
use bedplate::domain::settings::{OralResult, Settings, ThemeChoice};
use bedplate::store::{FaultReport, Notice, OpenError, OpenOptions, Opened, Store, StoreError, ids};

/// 2026-11-25T08:00Z.
pub const NOW: Instant = Instant(1_795_593_600_000);

pub fn options(dir: &Path, now: Instant) -> OpenOptions {
    OpenOptions { dir: dir.to_owned(), now, wake: Arc::new(|| {}) }
}

pub fn open(dir: &Path) -> Opened {
    Store::open(options(dir, NOW)).unwrap_or_else(|e| panic!("{e}"))
}

/// An attempt at `card`, `n` seconds after [`NOW`].
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

/// What a test says is known of a card after an attempt.
pub fn known(after: &Attempt, seen: u32) -> CardMemory {
    CardMemory {
        stability: 3.1 + after.seconds as f32,
        difficulty: 5.3,
        last_day: after.day(),
        last_at: after.at,
        due: after.day().plus(seen),
        seen,
        slips: 1,
        misses_in_a_row: 0,
        last: after.final_outcome(),
        seconds_total: after.seconds * f64::from(seen),
    }
}

#[test]
fn a_new_profile_is_made_and_empty() {
    let home = tempfile::tempdir().unwrap();
    let dir = home.path().join("profiles").join("k-vane");
    let opened = open(&dir);
    assert_eq!(opened.notices, [Notice::Created]);
    assert_eq!((opened.attempts_count, opened.created), (0, NOW));
    assert_eq!(opened.settings, Settings::default());
    assert!(opened.memory.is_empty() && opened.stamp.is_none());
    assert!(opened.set_aside.is_empty() && opened.faults.is_empty());
    let device = opened.device.clone();
    drop(opened);
    let again = Store::open(options(&dir, Instant(NOW.0 + 1))).unwrap();
    assert_eq!((again.device, again.created), (device, NOW), "the profile keeps its date and its computer's name");
    assert!(!again.notices.contains(&Notice::Created));
}

#[test]
fn what_is_recorded_is_read_back_after_closing() {
    let dir = tempfile::tempdir().unwrap();
    let opened = open(dir.path());
    let attempts = [attempt("drain", 0), attempt("earth-fault", 5), attempt("drain", 5), attempt("drain", 9)];
    for (i, a) in attempts.iter().enumerate() {
        opened.store.record(a.clone(), known(a, i as u32)).wait().unwrap();
    }
    drop(opened);

    let opened = open(dir.path());
    assert_eq!(opened.attempts_count, 4);
    assert_eq!(opened.store.attempts(None, 100).wait().unwrap(), attempts);
    assert_eq!(opened.store.attempts(Some(attempts[1].id.clone()), 1).wait().unwrap(), attempts[2..3]);
    assert_eq!(opened.store.attempts(Some(attempts[3].id.clone()), 9).wait().unwrap(), []);
    let drains = opened.store.attempts_of(CardKey::new("marram-light", "drain")).wait().unwrap();
    assert_eq!(drains, [attempts[0].clone(), attempts[2].clone(), attempts[3].clone()]);
    let today = opened.store.attempts_between(attempts[1].at, attempts[3].at).wait().unwrap();
    assert_eq!(today, attempts[1..3], "from the first instant up to, not including, the last");
    let folded = opened.store.fold_attempts(Vec::new(), |all, a| all.push(a)).wait().unwrap();
    assert_eq!(folded, attempts);
    let expected =
        [(attempts[3].card.clone(), known(&attempts[3], 3)), (attempts[1].card.clone(), known(&attempts[1], 1))];
    assert_eq!(opened.memory, expected, "one row per card, as recorded with its last attempt");
}

#[test]
fn recording_twice_changes_nothing() {
    let dir = tempfile::tempdir().unwrap();
    let opened = open(dir.path());
    let (first, second) = (attempt("drain", 0), attempt("drain", 1));
    opened.store.record(first.clone(), known(&first, 1)).wait().unwrap();
    opened.store.record(second.clone(), known(&second, 2)).wait().unwrap();
    opened.store.record(first.clone(), known(&first, 1)).wait().unwrap();
    let other = Attempt { seconds: 99.0, ..first.clone() };
    match opened.store.record(other, known(&first, 1)).wait() {
        Err(StoreError::Refused { why, .. }) => assert!(why.contains("another answer"), "{why}"),
        other => panic!("one id for two answers: {other:?}"),
    }
    drop(opened);
    let opened = open(dir.path());
    assert_eq!(opened.store.attempts(None, 9).wait().unwrap(), [first, second.clone()]);
    assert_eq!(opened.memory, [(second.card.clone(), known(&second, 2))], "a repeat does not put the cache back");
}

#[test]
fn attempts_of_another_computer_are_joined_once_and_end_the_cache() {
    let dir = tempfile::tempdir().unwrap();
    let opened = open(dir.path());
    let (mine, theirs) = (attempt("drain", 5), attempt("drain", 2));
    opened.store.replace_memory("model 1".to_owned(), vec![]).wait().unwrap();
    opened.store.record(mine.clone(), known(&mine, 1)).wait().unwrap();
    assert_eq!(opened.store.unite(vec![mine.clone()]).wait().unwrap(), 0);
    drop(opened);
    let opened = open(dir.path());
    assert_eq!(opened.stamp.as_deref(), Some("model 1"), "nothing new, the cache still fits");
    assert_eq!(opened.store.unite(vec![mine.clone(), theirs.clone()]).wait().unwrap(), 1);
    drop(opened);
    let opened = open(dir.path());
    assert_eq!(opened.stamp, None);
    assert_eq!(opened.store.attempts(None, 9).wait().unwrap(), [theirs, mine]);
}

#[test]
fn settings_set_aside_faults_and_memory_come_back() {
    let dir = tempfile::tempdir().unwrap();
    let opened = open(dir.path());
    let settings = Settings {
        learner: "Róisín Halloran".to_owned(),
        certificate: Certificate::Second,
        oral: Some(StudyDay(20_800)),
        minutes: 45,
        recall_target: 0.87,
        ship: ShipOffset::from_minutes(210).unwrap(),
        theme: ThemeChoice::Night,
        scale_percent: 150,
        still: true,
        second_reader: false,
        read_aloud: true,
        record: true,
        keep_recordings_days: 21,
        first_run_done: true,
        worksheet: vec!["D = 320 mm".into(), "A = pi / 4 * D^2".into()],
        memory: Some(vec![0.5; 21]),
        last_training: None,
        plan: None,
        results: vec![OralResult { day: StudyDay(20_100), passed: false }],
        blueprints: Vec::new(),
    };
    let card = CardKey::new("marram-light", "drain");
    let events = [
        SetAside { card: card.clone(), at: NOW, until: Until::ForGood },
        SetAside { card: card.clone(), at: NOW, until: Until::Back },
        SetAside { card: card.clone(), at: Instant(NOW.0 + 1), until: Until::Day(StudyDay(20_801)) },
    ];
    let fault = FaultReport { card: card.clone(), at: NOW, note: "the valve's name is wrong".to_owned() };
    let memory = vec![(card.clone(), known(&attempt("drain", 0), 7))];
    let store = &opened.store;
    store.save_settings(&settings, NOW).wait().unwrap();
    for event in &events {
        store.set_aside(event.clone()).wait().unwrap();
    }
    store.report_fault(fault.clone()).wait().unwrap();
    store.replace_memory("old".to_owned(), vec![(CardKey::new("marram-light", "gone"), memory[0].1)]).wait().unwrap();
    store.replace_memory("fsrs 6.6.2; 0.87".to_owned(), memory.clone()).wait().unwrap();
    drop(opened);
    let opened = open(dir.path());
    assert_eq!(opened.settings, settings);
    assert_eq!(opened.set_aside, events, "in order of time, a bringing back last");
    assert_eq!(opened.faults, [fault]);
    assert_eq!((opened.stamp.as_deref(), opened.memory), (Some("fsrs 6.6.2; 0.87"), memory));
}

#[test]
fn what_makes_no_sense_is_refused_with_a_reason() {
    let dir = tempfile::tempdir().unwrap();
    let opened = open(dir.path());
    let good = attempt("drain", 0);
    let wrong = [
        (Attempt { seconds: f64::NAN, ..good.clone() }, "seconds"),
        (Attempt { seconds: -1.0, ..good.clone() }, "seconds"),
        (Attempt { card: CardKey::new("marram light", "x"), ..good.clone() }, "card key"),
        (Attempt { id: AttemptId(String::new()), ..good.clone() }, "id must"),
    ];
    for (bad, word) in wrong {
        let error = opened.store.record(bad, known(&good, 1)).wait().unwrap_err().to_string();
        assert!(error.contains(word), "{error}");
    }
    let bad = CardMemory { stability: f32::NAN, ..known(&good, 1) };
    assert!(matches!(opened.store.record(good.clone(), bad).wait(), Err(StoreError::Refused { .. })));
    assert_eq!(opened.store.attempts(None, 9).wait().unwrap(), [], "the attempt is not kept without its memory");
    let event = SetAside { card: CardKey::new("../up", "x"), at: NOW, until: Until::Back };
    assert!(matches!(opened.store.set_aside(event).wait(), Err(StoreError::Refused { .. })));
}

#[test]
fn attempts_can_be_neither_changed_nor_deleted_nor_replaced() {
    let dir = tempfile::tempdir().unwrap();
    let opened = open(dir.path());
    let a = attempt("drain", 0);
    opened.store.record(a.clone(), known(&a, 1)).wait().unwrap();
    let event = SetAside { card: a.card.clone(), at: NOW, until: Until::ForGood };
    opened.store.set_aside(event.clone()).wait().unwrap();
    drop(opened);
    let file = rusqlite::Connection::open(dir.path().join("profile.sqlite")).unwrap();
    let refused = [
        "UPDATE attempt SET outcome = 4",
        "DELETE FROM attempt",
        "UPDATE set_aside SET until = 'back'",
        "DELETE FROM set_aside",
    ];
    for sql in refused {
        let error = file.execute(sql, []).unwrap_err().to_string();
        assert!(error.contains("only ever added"), "{sql}: {error}");
    }
    let replace = "INSERT OR REPLACE INTO attempt
        SELECT id, card, at_ms, ship_minutes, device, evidence, 4, notch, seconds FROM attempt";
    assert_eq!(file.execute(replace, []).unwrap(), 0);
    drop(file);
    let opened = open(dir.path());
    assert_eq!(opened.store.attempts(None, 9).wait().unwrap(), [a]);
    assert_eq!(opened.set_aside, [event]);
}

#[test]
fn a_second_window_is_refused_until_the_last_handle_goes() {
    let dir = tempfile::tempdir().unwrap();
    let opened = open(dir.path());
    let second = Store::open(options(dir.path(), NOW)).err();
    assert_eq!(second, Some(OpenError::InUse { dir: dir.path().to_owned() }));
    let clone = opened.store.clone();
    drop(opened);
    assert!(matches!(Store::open(options(dir.path(), NOW)), Err(OpenError::InUse { .. })), "a clone still holds it");
    drop(clone);
    let names: Vec<_> = std::fs::read_dir(dir.path()).unwrap().map(|e| e.unwrap().file_name()).collect();
    assert!(!names.iter().any(|n| n.to_string_lossy().ends_with("-wal")), "the log is folded in: {names:?}");
    open(dir.path());
}

/// A program that is just being started is born with this one's open files; it must not keep the lock with them.
#[test]
fn a_closed_profile_is_free_although_programs_are_being_started() {
    let dir = tempfile::tempdir().unwrap();
    let done = std::sync::atomic::AtomicBool::new(false);
    std::thread::scope(|scope| {
        scope.spawn(|| {
            while !done.load(Ordering::SeqCst) {
                let _ = std::process::Command::new(std::env::current_exe().unwrap()).arg("--help").output();
            }
        });
        let opened: Vec<_> = (0..60).map(|_| Store::open(options(dir.path(), NOW)).map(|_| ())).collect();
        done.store(true, Ordering::SeqCst);
        assert!(opened.iter().all(Result::is_ok), "{opened:?}");
    });
}

#[test]
fn work_handed_in_is_done_even_when_nobody_waits() {
    let dir = tempfile::tempdir().unwrap();
    let opened = open(dir.path());
    for n in 0..50 {
        let a = attempt("drain", n);
        drop(opened.store.record(a.clone(), known(&a, 1)));
    }
    drop(opened);
    assert_eq!(open(dir.path()).attempts_count, 50);
}

#[test]
fn every_answer_wakes_the_window_and_a_ticket_answers_once() {
    let dir = tempfile::tempdir().unwrap();
    let woken = Arc::new(AtomicUsize::new(0));
    let (tx, rx) = std::sync::mpsc::channel();
    let counter = woken.clone();
    let wake = Arc::new(move || {
        counter.fetch_add(1, Ordering::SeqCst);
        let _ = tx.send(());
    });
    let opened = Store::open(OpenOptions { dir: dir.path().to_owned(), now: NOW, wake }).unwrap();
    let before = woken.load(Ordering::SeqCst);
    let ticket = opened.store.attempts(None, 1);
    while woken.load(Ordering::SeqCst) == before {
        rx.recv().unwrap();
    }
    // Notices wake as well; the answer is there at the latest when the store has nothing left to do.
    let answer = loop {
        match ticket.try_take() {
            Some(answer) => break answer,
            None => rx.recv().unwrap(),
        }
    };
    assert_eq!(answer, Ok(vec![]));
    assert_eq!(ticket.try_take(), Some(Err(StoreError::Closed)), "an answer is given once");
}

#[test]
fn the_last_handle_may_go_on_the_stores_own_thread() {
    let dir = tempfile::tempdir().unwrap();
    let opened = open(dir.path());
    let (tx, rx) = std::sync::mpsc::channel();
    let held = opened.store.clone();
    let ticket = opened.store.fold_attempts(Some(held), move |_, _| {});
    drop(opened);
    std::thread::spawn(move || tx.send(ticket.wait().map(|_| ())).unwrap());
    assert_eq!(rx.recv().unwrap(), Ok(()));
}

#[test]
fn a_store_may_be_sent_and_shared() {
    fn sendable<T: Send + Sync + Clone>() {}
    sendable::<Store>();
    let dir = tempfile::tempdir().unwrap();
    let opened = open(dir.path());
    std::thread::scope(|scope| {
        for t in 0..4 {
            let store = opened.store.clone();
            scope.spawn(move || {
                for n in 0..25 {
                    let a = attempt(&format!("card-{t}"), n);
                    store.record(a.clone(), known(&a, 1)).wait().unwrap();
                }
            });
        }
    });
    let all = opened.store.attempts(None, usize::MAX).wait().unwrap();
    assert_eq!(all.len(), 100);
    assert!(all.is_sorted_by_key(|a| (a.at, a.id.clone())));
}

#[test]
fn ids_are_version_7_and_always_grow() {
    let mut all: Vec<AttemptId> = (0..10_000).map(|_| ids::new_attempt_id(NOW)).collect();
    all.extend((0..100).map(|n| ids::new_attempt_id(Instant(NOW.0 - n))));
    all.push(ids::new_attempt_id(Instant(i64::MIN)));
    assert!(all.is_sorted_by(|a, b| a < b), "strictly, also in one millisecond and when the clock goes back");
    for id in &all {
        let id = uuid::Uuid::parse_str(&id.0).unwrap();
        assert_eq!((id.get_version_num(), id.get_variant()), (7, uuid::Variant::RFC4122));
    }
    // RFC 9562, section 5.7: the first 48 bits are the Unix milliseconds. Other tests of this run may have
    // drawn ids for later instants, so this one is far ahead of them all.
    let later = Instant(NOW.0 * 2);
    let id = uuid::Uuid::parse_str(&ids::new_attempt_id(later).0).unwrap();
    assert_eq!(i64::try_from(id.as_u128() >> 80).unwrap(), later.0);
}
