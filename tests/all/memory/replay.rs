//! Memory: the adapter against outside vectors, replay, study days, the order of a watch and the watch itself.

use std::collections::HashMap;

use bedplate::domain::answer::Given;
use bedplate::domain::attempt::{Attempt, Evidence};
use bedplate::domain::day::{Instant, ShipOffset, StudyDay};
use bedplate::domain::ids::{AttemptId, CardKey};
use bedplate::domain::kinds::Kind;
use bedplate::domain::memory::CardMemory;
use bedplate::domain::memory::model::Model;
use bedplate::domain::memory::order::{Candidate, Order, Reason, order};
use bedplate::domain::memory::pace::Pace;
use bedplate::domain::memory::replay::{Memories, replay};
use bedplate::domain::memory::watch::{Turn, Watch};
use bedplate::domain::outcome::{Notch, Outcome};
use proptest::prelude::*;
use serde::Deserialize;

use crate::store::basics::open;

const DAY_MS: i64 = 86_400_000;
const NOON: i64 = DAY_MS / 2;

#[derive(Deserialize)]
struct Vectors {
    history: Vec<Vector>,
}

#[derive(Deserialize)]
struct Vector {
    id: String,
    history: Vec<(u32, i64)>,
    after_days: u32,
    stability: f64,
    difficulty: f64,
    recall: f64,
    interval_days: u32,
}

fn attempt(number: usize, card: &str, at_ms: i64, outcome: Outcome) -> Attempt {
    Attempt {
        id: AttemptId(format!("{number:08}")),
        card: CardKey::new("test", card),
        at: Instant(at_ms),
        ship: ShipOffset::default(),
        device: "bench".into(),
        evidence: Evidence { given: Given::Said(vec![]), edition: 1, points_said: vec![], points_missed: vec![] },
        outcome,
        notch: Notch::None,
        seconds: 20.0,
    }
}

fn near(a: f64, b: f64, relative: f64) -> bool {
    (a - b).abs() <= relative * b.abs()
}

#[test]
fn the_adapter_agrees_with_the_python_reference() {
    let text = include_str!("../../reference/fsrs.toml");
    let vectors: Vectors = toml::from_str(text).expect("the reference file is TOML");
    assert_eq!(vectors.history.len(), 18);
    let model = Model::standard(0.90);
    for vector in vectors.history {
        let mut at = NOON;
        let mut memory: Option<CardMemory> = None;
        for (n, (rating, days)) in vector.history.iter().enumerate() {
            at += days * DAY_MS;
            let outcome = Outcome::from_number(*rating).expect("1 to 4");
            memory = Some(model.after(memory.as_ref(), &attempt(n, "a", at, outcome)));
        }
        let memory = memory.expect("a history");
        // Single precision against double: the stated agreement is 7e-7 at worst.
        assert!(near(f64::from(memory.stability), vector.stability, 2e-6), "{} stability", vector.id);
        assert!(near(f64::from(memory.difficulty), vector.difficulty, 1e-6), "{} difficulty", vector.id);
        let recall = model.recall(&memory, memory.last_day.plus(vector.after_days));
        assert!(near(recall, vector.recall, 1e-6), "{} recall {recall}", vector.id);
        // The program never plans further than ten years ahead.
        assert_eq!(model.interval_days(memory.stability), vector.interval_days.min(3_650), "{} interval", vector.id);
    }
}

#[test]
fn a_study_day_ends_at_four_by_ships_time() {
    // 2026-03-11T00:30Z is 03:30 in UTC+3: still the study day of 10 March; half an hour on it is the 11th.
    let ship = ShipOffset::from_minutes(180).expect("in range");
    let half_past_three = Instant(20_523 * DAY_MS + 30 * 60_000);
    assert_eq!(half_past_three.study_day(ship), StudyDay(20_522));
    assert_eq!(Instant(half_past_three.0 + 30 * 60_000).study_day(ship), StudyDay(20_523));
    assert_eq!(StudyDay(20_523).begins(ship), Instant(half_past_three.0 + 30 * 60_000));
}

#[test]
fn clocks_put_back_neither_lose_nor_repeat_a_day() {
    let model = Model::standard(0.90);
    let east = ShipOffset::from_minutes(720).expect("in range");
    let west = ShipOffset::from_minutes(-720).expect("in range");
    let mut first = attempt(1, "a", 20_000 * DAY_MS, Outcome::Answered);
    first.ship = east;
    // An hour later by the clock, the ship has crossed the date line and stands a calendar day earlier.
    let mut second = attempt(2, "a", 20_000 * DAY_MS + 3_600_000, Outcome::Answered);
    second.ship = west;
    let one = model.after(None, &first);
    let two = model.after(Some(&one), &second);
    assert!(two.last_day >= one.last_day);
    assert!(two.due > one.last_day);
    assert!(model.recall(&two, second.day()) <= 1.0);
}

#[test]
fn a_missed_card_is_owed_today_and_a_stubborn_one_rests_after_its_remedy() {
    let model = Model::standard(0.90);
    let mut memory = None;
    for n in 0..4 {
        memory = Some(model.after(memory.as_ref(), &attempt(n, "a", NOON, Outcome::Missed)));
    }
    let four = memory.expect("four attempts");
    assert_eq!((four.misses_in_a_row, four.due), (4, four.last_day));
    let five = model.after(Some(&four), &attempt(5, "a", NOON, Outcome::Missed));
    assert_eq!(five.due, five.last_day.plus(1));
    let answered = model.after(Some(&four), &attempt(6, "a", NOON, Outcome::Prompted));
    assert_eq!((answered.misses_in_a_row, answered.due > answered.last_day), (0, true));
}

fn memory_of(stability: f32, last_day: i32, due: i32, last: Outcome) -> CardMemory {
    CardMemory {
        stability,
        difficulty: 5.0,
        last_day: StudyDay(last_day),
        last_at: Instant(0),
        due: StudyDay(due),
        seen: 3,
        slips: 0,
        misses_in_a_row: u32::from(last == Outcome::Missed),
        last,
        seconds_total: 60.0,
    }
}

fn order_of(cards: &[(&str, &str, u8, Option<CardMemory>, bool)], budget: f64) -> Vec<(String, Reason)> {
    let keys: Vec<CardKey> = cards.iter().map(|c| CardKey::new("test", c.0)).collect();
    let candidates: Vec<Candidate<'_>> = cards
        .iter()
        .zip(&keys)
        .map(|(c, key)| Candidate {
            key,
            kind: Kind::Figure,
            topic: c.1,
            weight: c.2,
            memory: c.3.as_ref(),
            wanted: c.4,
        })
        .collect();
    let order = order(&candidates, StudyDay(100), budget, &Pace::default(), &Model::standard(0.90));
    order.items.into_iter().map(|i| (i.key.card, i.reason)).collect()
}

#[test]
fn slipped_first_then_lowest_recall_by_weight_then_unseen_spread_over_topics() {
    let slipped = memory_of(1.0, 99, 99, Outcome::Missed);
    let weak = memory_of(5.0, 80, 85, Outcome::Answered);
    let strong = memory_of(20.0, 80, 99, Outcome::Answered);
    let resting = memory_of(50.0, 99, 140, Outcome::Answered);
    let cards = [
        ("new-a1", "A", 2, None, true),
        ("new-a2", "A", 3, None, true),
        ("new-b1", "B", 1, None, true),
        ("new-c1", "C", 3, None, false),
        ("strong-heavy", "A", 3, Some(strong), true),
        ("strong-light", "A", 1, Some(strong), true),
        ("weak", "A", 3, Some(weak), true),
        ("resting", "A", 3, Some(resting), true),
        ("slipped", "B", 1, Some(slipped), true),
    ];
    let names: Vec<String> = order_of(&cards, 10_000.0).into_iter().map(|(n, _)| n).collect();
    let expected =
        ["slipped", "weak", "strong-heavy", "strong-light", "new-a2", "new-b1", "new-a1", "new-c1"].map(String::from);
    assert_eq!(names, expected);
}

#[test]
fn the_minutes_bound_the_watch_and_what_is_left_is_said() {
    let due = memory_of(5.0, 80, 85, Outcome::Answered);
    let cards = [("a", "A", 2, Some(due), true), ("b", "A", 2, Some(due), true), ("new", "A", 2, None, true)];
    // A figure takes 15 s before anything is measured.
    assert_eq!(order_of(&cards, 31.0).len(), 2);
    assert_eq!(order_of(&cards, 46.0).len(), 3);
    assert_eq!(order_of(&cards, 0.0).len(), 1, "never an empty watch while something is owed");
}

fn order_with(names: &[&str]) -> Order {
    let keys: Vec<CardKey> = names.iter().map(|name| CardKey::new("test", name)).collect();
    let candidates: Vec<Candidate<'_>> = keys
        .iter()
        .map(|key| Candidate { key, kind: Kind::Recall, topic: "A", weight: 2, memory: None, wanted: true })
        .collect();
    order(&candidates, StudyDay(1), 1e9, &Pace::default(), &Model::standard(0.90))
}

fn names_until_end(mut watch: Watch, mut outcome: impl FnMut(&str, usize) -> Outcome) -> Vec<String> {
    let mut asked = Vec::new();
    let mut misses: HashMap<String, u32> = HashMap::new();
    while let Some(card) = watch.current().cloned() {
        assert!(asked.len() < 200, "the watch must end");
        if card.turn == Turn::Remedy {
            asked.push(format!("remedy {}", card.key.card));
            watch = watch.remedied();
            continue;
        }
        let result = outcome(&card.key.card, asked.len());
        asked.push(card.key.card.clone());
        let count = misses.entry(card.key.card.clone()).or_default();
        *count = if result == Outcome::Missed { *count + 1 } else { 0 };
        let count = *count;
        watch = watch.answered(result, count);
    }
    asked
}

#[test]
fn a_missed_card_returns_until_it_is_answered_once() {
    let watch = Watch::begin(&order_with(&["a", "b", "c", "d", "e", "f"]), |_| 0);
    let mut seen_a = 0;
    let asked = names_until_end(watch, |name, _| {
        seen_a += usize::from(name == "a");
        if name == "a" && seen_a < 3 { Outcome::Missed } else { Outcome::Answered }
    });
    assert_eq!(asked, ["a", "b", "c", "d", "e", "a", "f", "a"]);
}

#[test]
fn a_stubborn_card_gets_its_remedy_and_then_rests() {
    let watch = Watch::begin(&order_with(&["a", "b"]), |_| 0);
    let asked = names_until_end(watch, |name, _| if name == "a" { Outcome::Missed } else { Outcome::Answered });
    assert_eq!(asked, ["a", "b", "a", "a", "a", "remedy a", "a"]);
    let stubborn = Watch::begin(&order_with(&["a", "b"]), |key| if key.card == "a" { 5 } else { 0 });
    let asked = names_until_end(stubborn, |_, _| Outcome::Missed);
    assert_eq!(asked.iter().filter(|n| *n == "remedy a").count(), 1);
    assert_eq!(asked.first().map(String::as_str), Some("remedy a"));
}

#[test]
fn progress_counts_each_card_once() {
    let watch = Watch::begin(&order_with(&["a", "b", "c"]), |_| 0);
    let watch = watch.answered(Outcome::Missed, 1);
    assert_eq!(watch.progress(), (0, 3));
    let watch = watch.answered(Outcome::Answered, 0);
    assert_eq!(watch.progress(), (1, 3));
    let watch = watch.without(&CardKey::new("test", "c"));
    assert_eq!(watch.progress(), (1, 2));
}

proptest! {
    // Each case opens a profile of its own.
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(30) })]

    /// The memory of a replay as the program makes it, from the store, is that of the answers as they were given, in
    /// whatever order the store got them and however often.
    #[test]
    fn replay_does_not_depend_on_the_order_attempts_arrive_in(
        steps in prop::collection::vec((0u8..4, 0i64..20, 1u32..=4), 1..60),
        seed in any::<u64>(),
    ) {
        let model = Model::standard(0.90);
        let mut at = NOON;
        let attempts: Vec<Attempt> = steps
            .iter()
            .enumerate()
            .map(|(n, (card, days, rating))| {
                at += days * DAY_MS / 3;
                let outcome = Outcome::from_number(*rating).unwrap_or(Outcome::Missed);
                attempt(n, &format!("c{card}"), at, outcome)
            })
            .collect();
        let mut given: HashMap<CardKey, CardMemory> = HashMap::new();
        for a in &attempts {
            let next = model.after(given.get(&a.card), a);
            given.insert(a.card.clone(), next);
        }
        let mut shuffled = attempts.clone();
        let n = shuffled.len();
        let mut state = seed;
        for i in (1..n).rev() {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            shuffled.swap(i, (state >> 33) as usize % (i + 1));
        }
        let home = tempfile::tempdir().expect("a temporary folder");
        let store = open(home.path()).store;
        let (first, rest) = shuffled.split_at(n / 2);
        store.unite(first.to_vec()).wait().expect("kept");
        store.unite(rest.iter().chain([&attempts[0]]).cloned().collect()).wait().expect("kept");
        let replayed = store.fold_attempts(Memories::new(), replay(&model)).wait().expect("read");
        prop_assert_eq!(given, replayed);
    }
}
