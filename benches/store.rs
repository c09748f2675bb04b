//! The store against the bare SQL, on one file of 50,000 cards and 1,000,000 attempts: keeping an answer,
//! fetching what the next card needs, the day so far, opening, and search over 5,000 cards as one types.
//!
//! The file is made once, under `target/tmp`, in one transaction; each pair of measurements runs on it in the
//! same run. The bare side uses the same connection settings, statements and columns, and builds nothing.

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, LazyLock, Mutex};
use std::time::{SystemTime, UNIX_EPOCH};

use bedplate::domain::answer::Given;
use bedplate::domain::attempt::{Attempt, Evidence};
use bedplate::domain::day::{Instant, ShipOffset};
use bedplate::domain::ids::{CardKey, DeckId};
use bedplate::domain::memory::CardMemory;
use bedplate::domain::outcome::{Notch, Outcome};
use bedplate::store::{OpenOptions, Opened, SearchCard, SearchDoc, Store, ids};
use divan::{Bencher, black_box};
use rusqlite::{Connection, OpenFlags, params};

const CARDS: u64 = 50_000;
const ATTEMPTS: u64 = 1_000_000;
/// One attempt every two minutes, up to this time.
const END: i64 = 1_795_593_600_000;
const STEP_MS: i64 = 120_000;

const INSERT: &str = "INSERT INTO attempt (id, card, at_ms, ship_minutes, device, evidence, outcome, notch, seconds)
     VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)";
const REMEMBER: &str = "INSERT OR REPLACE INTO card_memory (card, stability, difficulty, last_day, last_at_ms, due,
     seen, slips, misses_in_a_row, last, seconds_total) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)";

fn main() {
    build();
    divan::main();
}

fn dir() -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join("store-bench")
}

fn open() -> Opened {
    let now = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |d| d.as_millis() as i64);
    Store::open(OpenOptions { dir: dir(), now: Instant(now), wake: Arc::new(|| {}) }).unwrap_or_else(|e| panic!("{e}"))
}

fn key(n: u64) -> CardKey {
    CardKey::new("auxiliary-power", &format!("card-{n:05}"))
}

/// The `n`th attempt; cards come in a scattered order.
fn attempt(n: u64) -> Attempt {
    let at = Instant(END - (ATTEMPTS as i64 - n as i64) * STEP_MS);
    Attempt {
        id: ids::new_attempt_id(at),
        card: key(n * 7919 % CARDS),
        at,
        ship: ShipOffset::default(),
        device: "device-of-the-bench".to_owned(),
        evidence: Evidence {
            given: Given::Text("start the standby generator, check the voltage and close its breaker".to_owned()),
            edition: 1,
            points_said: vec![1, 2, 4],
            points_missed: vec![3],
        },
        outcome: Outcome::ALL[n as usize % 4],
        notch: Notch::None,
        seconds: 14.5,
    }
}

fn memory(a: &Attempt) -> CardMemory {
    CardMemory {
        stability: 12.5,
        difficulty: 5.5,
        last_day: a.day(),
        last_at: a.at,
        due: a.day().plus(9),
        seen: 20,
        slips: 1,
        misses_in_a_row: 0,
        last: a.outcome,
        seconds_total: 290.0,
    }
}

fn insert(conn: &Connection, a: &Attempt) {
    let evidence = serde_json::to_string(&a.evidence).unwrap();
    conn.prepare_cached(INSERT)
        .unwrap()
        .execute(params![
            a.id.0,
            a.card.to_string(),
            a.at.0,
            a.ship.minutes(),
            a.device,
            evidence,
            a.outcome.number(),
            a.notch.number(),
            a.seconds
        ])
        .unwrap();
}

fn remember(conn: &Connection, card: &CardKey, m: &CardMemory) {
    conn.prepare_cached(REMEMBER)
        .unwrap()
        .execute(params![
            card.to_string(),
            m.stability,
            m.difficulty,
            m.last_day.0,
            m.last_at.0,
            m.due.0,
            m.seen,
            m.slips,
            m.misses_in_a_row,
            m.last.number(),
            m.seconds_total
        ])
        .unwrap();
}

/// Makes the big file where there is none, and leaves it backed up so that no backup runs beside a measurement.
fn build() {
    if open().attempts_count < ATTEMPTS {
        eprintln!("making a profile of {CARDS} cards and {ATTEMPTS} attempts");
        let _ = std::fs::remove_dir_all(dir());
        drop(open());
        let conn = bare();
        conn.execute_batch("PRAGMA cache_size = -400000; BEGIN").unwrap();
        for n in 0..ATTEMPTS {
            let a = attempt(n);
            insert(&conn, &a);
            if n >= ATTEMPTS - CARDS {
                remember(&conn, &a.card, &memory(&a));
            }
        }
        conn.execute_batch("COMMIT").unwrap();
    }
    drop(open());
    // Each is as big as the file; the newest is enough for the next start to see that nothing has changed.
    for old in bedplate::store::backup::list(&dir()).unwrap().iter().skip(1) {
        std::fs::remove_file(&old.path).unwrap();
    }
}

/// A connection as the store's own is.
fn bare() -> Connection {
    let conn = Connection::open(dir().join("profile.sqlite")).unwrap();
    conn.query_row("PRAGMA journal_mode = WAL", [], |_| Ok(())).unwrap();
    conn.execute_batch("PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON").unwrap();
    conn
}

/// The store that all measurements but those of opening share.
fn with_store<T>(work: impl FnOnce(&Store) -> T) -> T {
    static STORE: Mutex<Option<Store>> = Mutex::new(None);
    let mut held = STORE.lock().unwrap();
    work(held.get_or_insert_with(|| open().store))
}

static NEXT: AtomicU64 = AtomicU64::new(ATTEMPTS);

fn next_attempt() -> (Attempt, CardMemory) {
    let a = attempt(NEXT.fetch_add(1, Ordering::Relaxed));
    let m = memory(&a);
    (a, m)
}

fn next_card() -> CardKey {
    key(NEXT.fetch_add(1, Ordering::Relaxed) * 104_729 % CARDS)
}

#[divan::bench_group(sample_count = 400, sample_size = 1)]
mod b_keep_an_answer {
    use super::*;

    #[divan::bench]
    fn bare_sql(bencher: Bencher) {
        let conn = bare();
        bencher.with_inputs(next_attempt).bench_local_values(|(a, m)| {
            let tx = conn.unchecked_transaction().unwrap();
            insert(&tx, &a);
            remember(&tx, &a.card, &m);
            tx.commit().unwrap();
        });
    }

    #[divan::bench]
    fn store(bencher: Bencher) {
        with_store(|store| {
            bencher.with_inputs(next_attempt).bench_local_values(|(a, m)| store.record(a, m).wait().unwrap());
        });
    }
}

#[divan::bench_group(sample_count = 2000, sample_size = 1)]
mod c_fetch_a_cards_attempts {
    use super::*;

    #[divan::bench]
    fn bare_sql(bencher: Bencher) {
        let conn = bare();
        let sql = "SELECT id, card, at_ms, ship_minutes, device, evidence, outcome, notch, seconds
                   FROM attempt WHERE card = ?1 ORDER BY at_ms, id";
        bencher.with_inputs(|| next_card().to_string()).bench_local_values(|card| read_all(&conn, sql, params![card]));
    }

    #[divan::bench]
    fn store(bencher: Bencher) {
        with_store(|store| {
            bencher.with_inputs(next_card).bench_local_values(|card| {
                let found = store.attempts_of(card).wait().unwrap();
                assert!(found.len() >= 20);
                found
            });
        });
    }
}

#[divan::bench_group(sample_count = 300, sample_size = 1)]
mod d_fetch_a_day_of_720_attempts {
    use super::*;

    const DAY_MS: i64 = 86_400_000;

    #[divan::bench]
    fn bare_sql(bencher: Bencher) {
        let conn = bare();
        let sql = "SELECT id, card, at_ms, ship_minutes, device, evidence, outcome, notch, seconds
                   FROM attempt WHERE at_ms >= ?1 AND at_ms < ?2 ORDER BY at_ms, id";
        bencher.bench_local(|| read_all(&conn, sql, params![END - 2 * DAY_MS, END - DAY_MS]));
    }

    #[divan::bench]
    fn store(bencher: Bencher) {
        with_store(|store| {
            bencher.bench_local(|| {
                let day = store.attempts_between(Instant(END - 2 * DAY_MS), Instant(END - DAY_MS)).wait().unwrap();
                assert!(day.len() >= 720);
                day
            });
        });
    }
}

/// Reads every column of every row and builds nothing.
fn read_all(conn: &Connection, sql: &str, params: impl rusqlite::Params) {
    let mut statement = conn.prepare_cached(sql).unwrap();
    let mut rows = statement.query(params).unwrap();
    while let Some(row) = rows.next().unwrap() {
        for column in 0..9 {
            let _ = black_box(row.get_ref(column).unwrap());
        }
    }
}

/// Runs first: the others then keep one store open.
#[divan::bench_group(sample_count = 3, sample_size = 1)]
mod a_open {
    use super::*;

    /// What SQLite's own quick look at every page takes.
    #[divan::bench]
    fn bare_quick_check(bencher: Bencher) {
        bencher.bench_local(|| {
            let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
            let conn = Connection::open_with_flags(dir().join("profile.sqlite"), flags).unwrap();
            let told: String = conn.query_row("PRAGMA quick_check(1)", [], |row| row.get(0)).unwrap();
            assert_eq!(told, "ok");
        });
    }

    /// Open, read the memory cache of 50,000 cards, close.
    #[divan::bench]
    fn store(bencher: Bencher) {
        bencher.bench_local(|| {
            let opened = open();
            assert!(opened.memory.len() as u64 == CARDS);
        });
    }
}

#[divan::bench_group(sample_count = 200, sample_size = 1)]
mod e_search_5000_cards {
    use super::*;

    /// Ten decks of 500 cards of invented text, read into the index once. As in real text some words are in
    /// most cards and most words in few: the word of rank `r` comes about `1 / r` as often as the first.
    static INDEXED: LazyLock<()> = LazyLock::new(|| {
        let trade = ["pump", "pressure", "lubrication", "valve", "governor", "breaker", "alternator", "bearing"];
        let parts = ["lub", "pre", "sta", "ven", "tor", "mar", "oil", "cyl", "gen", "fu", "con", "ri", "te", "ol"];
        let mut random = 1u64;
        let mut text = |length: usize| {
            let words = (0..length).map(|_| {
                random = random.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
                let rank = (4000f64.powf((random >> 11) as f64 / (1u64 << 53) as f64)) as usize;
                match trade.get(rank / 5).filter(|_| rank.is_multiple_of(5)) {
                    Some(word) => (*word).to_owned(),
                    None => [rank % 14, rank / 14 % 14, rank / 196 % 14].map(|part| parts[part]).concat(),
                }
            });
            words.collect::<Vec<_>>().join(" ")
        };
        let decks = (0..10u64)
            .map(|d| SearchDoc {
                deck: DeckId(format!("deck-{d}")),
                title: format!("Deck {d}"),
                digest: "bench 2".to_owned(),
                cards: (0..500u64)
                    .map(|c| SearchCard { card: format!("card-{c}"), title: text(9), body: text(60) })
                    .collect(),
            })
            .collect();
        with_store(|store| store.index_decks(decks).wait().unwrap());
    });

    #[divan::bench(args = ["l", "lub pre", "lubrication pressures govern", "no such words"])]
    fn store(bencher: Bencher, query: &str) {
        LazyLock::force(&INDEXED);
        with_store(|store| bencher.bench_local(|| store.search(query, 50).wait().unwrap()));
    }
}
