//! Making the order of a watch over 50,000 cards, against the bare SQL that finds what is due.

use bedplate::domain::day::{Instant, StudyDay};
use bedplate::domain::ids::CardKey;
use bedplate::domain::kinds::Kind;
use bedplate::domain::memory::CardMemory;
use bedplate::domain::memory::model::Model;
use bedplate::domain::memory::order::{Candidate, order};
use bedplate::domain::memory::pace::Pace;
use bedplate::domain::memory::watch::Watch;
use bedplate::domain::outcome::Outcome;
use divan::Bencher;
use rusqlite::Connection;

const CARDS: usize = 50_000;
const TODAY: i32 = 20_000;

fn main() {
    divan::main();
}

fn memory(n: usize) -> Option<CardMemory> {
    (!n.is_multiple_of(5)).then(|| CardMemory {
        stability: 1.0 + (n % 97) as f32,
        difficulty: 1.0 + (n % 9) as f32,
        last_day: StudyDay(TODAY - (n % 60) as i32),
        last_at: Instant(0),
        due: StudyDay(TODAY - 30 + (n % 61) as i32),
        seen: 20,
        slips: 1,
        misses_in_a_row: u32::from(n % 50 == 1),
        last: if n % 50 == 1 { Outcome::Missed } else { Outcome::Answered },
        seconds_total: 400.0,
    })
}

fn cards() -> Vec<(CardKey, Option<CardMemory>, String)> {
    (0..CARDS)
        .map(|n| (CardKey::new("bench", &format!("card-{n:05}")), memory(n), format!("A-III/1.{}", n % 17)))
        .collect()
}

fn candidates(cards: &[(CardKey, Option<CardMemory>, String)]) -> Vec<Candidate<'_>> {
    cards
        .iter()
        .map(|(key, memory, topic)| Candidate {
            key,
            kind: Kind::Recall,
            topic,
            weight: 2,
            memory: memory.as_ref(),
            wanted: true,
        })
        .collect()
}

#[divan::bench]
fn bare_sql(bencher: Bencher) {
    let conn = Connection::open_in_memory().expect("a database");
    conn.execute_batch(
        "CREATE TABLE m (card TEXT PRIMARY KEY, due INTEGER, recall REAL) STRICT; CREATE INDEX d ON m (due);",
    )
    .expect("a table");
    for (key, memory, _) in cards() {
        if let Some(m) = memory {
            conn.execute("INSERT INTO m VALUES (?1, ?2, ?3)", (key.to_string(), m.due.0, f64::from(m.stability)))
                .expect("a row");
        }
    }
    bencher.bench_local(|| {
        let mut due = conn.prepare_cached("SELECT card FROM m WHERE due <= ?1 ORDER BY recall").expect("a statement");
        let rows = due.query_map([TODAY], |row| row.get::<_, String>(0)).expect("rows");
        rows.count()
    });
}

#[divan::bench]
fn order_of_a_watch(bencher: Bencher) {
    let cards = cards();
    let candidates = candidates(&cards);
    let (model, pace) = (Model::standard(0.90), Pace::default());
    bencher.bench_local(|| order(&candidates, StudyDay(TODAY), 1_800.0, &pace, &model));
}

#[divan::bench]
fn next_card_after_an_answer(bencher: Bencher) {
    let cards = cards();
    let candidates = candidates(&cards);
    let order = order(&candidates, StudyDay(TODAY), 1_800.0, &Pace::default(), &Model::standard(0.90));
    let watch = Watch::begin(&order, |_| 0);
    bencher.bench_local(|| watch.clone().answered(Outcome::Missed, 1).current().cloned());
}
