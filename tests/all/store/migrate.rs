//! Old files open in this version with all that they hold, and a kill half-way leaves them openable.

use std::fs;
use std::path::PathBuf;

use bedplate::domain::answer::Given;
use bedplate::domain::attempt::{SetAside, Until};
use bedplate::domain::day::{Instant, StudyDay};
use bedplate::domain::editions::Ledger;
use bedplate::domain::ids::CardKey;
use bedplate::domain::outcome::{Notch, Outcome};
use bedplate::store::{FaultReport, Notice, SearchCard, SearchDoc, Store, backup};

use super::basics::{NOW, known, options};
use crate::editions::ledger::{asked, edition, lineage_of};

fn stored(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/reference/store").join(name)
}

/// What `tests/reference/store/README.md` says the file of version 1 holds.
#[test]
fn version_1_opens_and_keeps_its_data() {
    let dir = tempfile::tempdir().unwrap();
    fs::copy(stored("profile-v1.sqlite"), dir.path().join("profile.sqlite")).unwrap();
    let opened = Store::open(options(dir.path(), Instant(NOW.0 + 86_400_000))).unwrap();
    assert!(opened.notices.contains(&Notice::Upgraded { from: 1 }), "{:?}", opened.notices);
    let copy_before = opened.notices.iter().find_map(|n| match n {
        Notice::BackupMade(backup) => Some(backup.path.clone()),
        _ => None,
    });
    let old = rusqlite::Connection::open(copy_before.expect("a backup is made before the file is changed")).unwrap();
    let version: u32 = old.query_row("PRAGMA user_version", [], |r| r.get(0)).unwrap();
    assert_eq!(version, 1, "the backup is of the file as it was");

    assert_eq!(opened.attempts_count, 40);
    let attempts = opened.store.attempts(None, 100).wait().unwrap();
    for (n, a) in attempts.iter().enumerate() {
        assert_eq!(a.id.0, format!("019abf40-0000-7000-8000-{n:012}"));
        assert_eq!(a.card, CardKey::new("marram-light", &format!("card-{}", n % 5)));
        assert_eq!((a.at, a.ship.minutes()), (Instant(NOW.0 + n as i64 * 3_600_000), -570));
        assert_eq!((a.outcome, a.seconds), (Outcome::ALL[n % 4], n as f64 + 0.5));
        assert_eq!(a.notch, Notch::from_number(n as i64 % 3 - 1));
        assert_eq!(matches!(&a.evidence.given, Given::Said(s) if *s == [1, n]), n % 2 == 0);
        assert_eq!((a.evidence.edition, &a.evidence.points_missed[..]), (3, &[2][..]));
        assert_eq!(a.device, opened.device);
    }
    assert_eq!(opened.settings.learner, "K. Vane");
    assert_eq!((opened.settings.oral, opened.settings.minutes), (Some(StudyDay(20_900)), 25));
    assert_eq!(opened.settings.ship.minutes(), 180);
    let card = CardKey::new("marram-light", "card-2");
    assert_eq!(opened.set_aside, [SetAside { card: card.clone(), at: NOW, until: Until::Day(StudyDay(20_790)) }]);
    assert_eq!(opened.faults, [FaultReport { card, at: NOW, note: "units missing".to_owned() }]);
    assert_eq!(opened.stamp.as_deref(), Some("fsrs 6.6.2 as written at version 1"));
    let last: Vec<_> = attempts[35..].iter().map(|a| (a.card.clone(), known(a, 8))).collect();
    assert_eq!(opened.memory, last);

    // What the newer version brought works on the old file.
    let doc = SearchDoc {
        deck: CardKey::new("marram-light", "x").deck,
        title: "Marram Light".to_owned(),
        digest: "1".to_owned(),
        cards: vec![SearchCard { card: "x".to_owned(), title: "Earth fault".to_owned(), body: String::new() }],
    };
    assert_eq!(opened.store.index_decks(vec![doc]).wait(), Ok(1));
    assert_eq!(opened.store.search("earth", 5).wait().unwrap().len(), 1);
    drop(opened);
    let again = Store::open(options(dir.path(), NOW)).unwrap();
    assert_eq!(again.notices, [], "once brought up to date, it is");
    drop(again);
    assert_eq!(backup::list(dir.path()).unwrap().len(), 2, "one before, one of the new version");
}

/// A migrated file has the very tables, indexes and triggers of a new one.
#[test]
fn an_old_file_brought_up_to_date_is_as_a_new_one() {
    let schema = |dir: &std::path::Path| -> Vec<(String, String)> {
        let conn = rusqlite::Connection::open(dir.join("profile.sqlite")).unwrap();
        let mut statement =
            conn.prepare("SELECT name, coalesce(sql, '') FROM sqlite_schema ORDER BY name, sql").unwrap();
        statement.query_map([], |r| Ok((r.get(0)?, r.get(1)?))).unwrap().map(Result::unwrap).collect()
    };
    let (old, new) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    fs::copy(stored("profile-v1.sqlite"), old.path().join("profile.sqlite")).unwrap();
    drop(Store::open(options(old.path(), NOW)).unwrap());
    drop(Store::open(options(new.path(), NOW)).unwrap());
    assert_eq!(schema(old.path()), schema(new.path()));
    assert!(!schema(new.path()).iter().any(|(name, _)| name.starts_with("search_")), "the search has its own file");
}

/// Every step is one transaction: a step that fails in its middle leaves nothing of itself.
#[test]
fn a_step_that_fails_leaves_the_old_version() {
    let dir = tempfile::tempdir().unwrap();
    let file = dir.path().join("profile.sqlite");
    fs::copy(stored("profile-v1.sqlite"), &file).unwrap();
    // Something stands where a table of the step to version 2 would go.
    let conn = rusqlite::Connection::open(&file).unwrap();
    conn.execute_batch("CREATE TABLE search_stem (in_the_way)").unwrap();
    conn.close().unwrap();
    assert!(Store::open(options(dir.path(), NOW)).is_err());
    let conn = rusqlite::Connection::open(&file).unwrap();
    let version: u32 = conn.query_row("PRAGMA user_version", [], |r| r.get(0)).unwrap();
    let begun: u32 =
        conn.query_row("SELECT count(*) FROM sqlite_schema WHERE name LIKE 'search_card%'", [], |r| r.get(0)).unwrap();
    assert_eq!((version, begun), (1, 0));
    conn.execute_batch("DROP TABLE search_stem").unwrap();
    conn.close().unwrap();
    assert_eq!(Store::open(options(dir.path(), NOW)).unwrap().attempts_count, 40);
}

/// What `tests/reference/store/README.md` says the file of version 2 holds.
#[test]
fn version_2_opens_and_keeps_its_data() {
    let dir = tempfile::tempdir().unwrap();
    fs::copy(stored("profile-v2.sqlite"), dir.path().join("profile.sqlite")).unwrap();
    let opened = Store::open(options(dir.path(), Instant(NOW.0 + 86_400_000))).unwrap();
    assert!(opened.notices.contains(&Notice::Upgraded { from: 2 }), "{:?}", opened.notices);
    assert_eq!(opened.attempts_count, 46);
    let attempts = opened.store.attempts(None, 100).wait().unwrap();
    assert_eq!(attempts.iter().filter(|a| a.card == CardKey::new("auxiliary-power", "what-is-dead-ship")).count(), 3);
    assert_eq!(opened.store.search("pressure", 10).wait().unwrap(), [], "the search begins anew in its own file");
    assert_eq!(opened.store.sittings().wait().unwrap(), vec![], "and what version 3 brought works");
}

/// What `tests/reference/store/README.md` says the file of version 3 holds.
#[test]
fn version_3_opens_and_keeps_its_data() {
    let dir = tempfile::tempdir().unwrap();
    let file = dir.path().join("profile.sqlite");
    fs::copy(stored("profile-v3.sqlite"), &file).unwrap();
    let before = fs::metadata(&file).unwrap().len();
    let opened = Store::open(options(dir.path(), Instant(NOW.0 + 86_400_000))).unwrap();
    assert!(opened.notices.contains(&Notice::Upgraded { from: 3 }), "{:?}", opened.notices);
    assert_eq!(opened.attempts_count, 54);
    let sittings = opened.store.sittings().wait().unwrap();
    assert_eq!((sittings.len(), sittings[0].sitting.turns.len(), sittings[0].ended), (1, 4, None));
    assert_eq!(opened.settings.learner, "K. Vane");
    // What version 4 brought works, and the index's room is given back.
    let last = opened.store.attempts(None, 99).wait().unwrap().pop().unwrap();
    opened.store.void_attempts(vec![last.id], NOW, |_| None).wait().unwrap();
    assert_eq!(opened.store.attempts(None, 99).wait().unwrap().len(), 53);
    drop(opened);
    assert!(fs::metadata(&file).unwrap().len() < before);
}

/// What `tests/reference/store/README.md` says the file of version 4 holds.
#[test]
fn version_4_opens_and_keeps_its_data() {
    let dir = tempfile::tempdir().unwrap();
    fs::copy(stored("profile-v4.sqlite"), dir.path().join("profile.sqlite")).unwrap();
    let opened = Store::open(options(dir.path(), Instant(NOW.0 + 9 * 86_400_000))).unwrap();
    assert!(opened.notices.contains(&Notice::Upgraded { from: 4 }), "{:?}", opened.notices);
    assert_eq!(opened.attempts_count, 101);
    assert_eq!(opened.settings.learner, "K. Vane");
    // What version 5 brought works; of what was asked before, nothing is known.
    assert!(opened.store.ledger().wait().unwrap().is_empty());
    let mut ledger = Ledger::default();
    let taken = ledger.take_in(&edition("marram-light", 4, &[("card-1", 7, &["card-0"])]), NOW);
    opened.store.keep_editions(vec![taken.clone(), taken]).wait().unwrap();
    let card = CardKey::new("marram-light", "card-1");
    assert_eq!(ledger.changed(&card, &card, 3), None);
    let before = opened.store.attempts_of(card.clone()).wait().unwrap().len();
    opened
        .store
        .go_by(lineage_of(&[&edition("marram-light", 4, &[("card-1", 7, &["card-0"])])], &ledger))
        .wait()
        .unwrap();
    assert_eq!(opened.store.attempts_of(card).wait().unwrap().len(), before + 8);
    drop(opened);
    let again = Store::open(options(dir.path(), NOW)).unwrap();
    assert_eq!(again.store.ledger().wait().unwrap(), ledger, "kept once, and read back");
    let digest = asked(7).digest();
    assert_eq!(again.store.asked(vec![digest.clone(), "none".to_owned()]).wait().unwrap(), [(digest, asked(7))].into());
}
