//! A learner with an assignment: what its date does to each day's watch, and watches that are limited.

use std::collections::HashSet;
use std::fmt::Write;
use std::fs;
use std::path::Path;

use bedplate::app::class::assignments::keep;
use bedplate::app::profile::learner::Learner;
use bedplate::app::profile::only::Only;
use bedplate::app::profile::opening::{self, Profile, Ready};
use bedplate::app::profile::shelf::Shelf;
use bedplate::domain::attempt::Attempt;
use bedplate::domain::day::{Instant, StudyDay};
use bedplate::domain::ids::{AttemptId, CardKey, DeckId};
use bedplate::domain::memory::order::Order;
use bedplate::domain::outcome::Outcome;
use bedplate::domain::roster::Assignment;
use tempfile::TempDir;

use super::school::{assignment, attempt};
use crate::support::bundled::share_in;
use crate::support::cards::write_stage;
use crate::support::home::{self, terminal};
use crate::support::time::{DAY_MS, MORNING};

/// Cards of the assignment's deck.
const CARDS: usize = 40;

/// A home with the decks of the program, one of forty cards, and an assignment of all of these, due on a day.
fn ready(by: Option<StudyDay>) -> (TempDir, Shelf, Learner, Assignment) {
    let home = tempfile::tempdir().expect("a folder");
    share_in(home.path());
    let folder = home.path().join("decks/stage");
    fs::create_dir_all(&folder).expect("a folder");
    write_stage(&folder, &cards());
    let ids: Vec<String> = (0..CARDS).map(|n| format!("c{n}")).collect();
    let ids: Vec<&str> = ids.iter().map(String::as_str).collect();
    let given = Assignment { by, ..assignment("3A", &ids) };
    keep(home.path(), &given).expect("kept");
    let (shelf, learner) = opened(home.path());
    (home, shelf, learner, given)
}

fn cards() -> String {
    (0..CARDS).fold(String::new(), |mut text, n| {
        let heading = if n % 2 == 0 { "Earth faults" } else { "Blackout" };
        let _ = writeln!(
            text,
            "[[figure]]\nid = \"c{n}\"\ntopic = \"A-III/1.2.1\"\nheading = \"{heading} of the stage\"\nask = \"Figure {n} of the stagehand?\"\n\
             value = \"{} V\"\nbecause = \"So.\"\nsources = [\"practice\"]\n",
            n + 400
        );
        text
    })
}

fn opened(home: &Path) -> (Shelf, Learner) {
    let setup = home::setup(home, "cadet", Some("R. Halloran"), home::stopped(Instant(MORNING)));
    let Ready { shelf, profile: Profile { store, learner, .. }, .. } =
        opening::open(&setup, Instant(MORNING)).expect("open");
    drop(store);
    (shelf, learner)
}

fn today() -> StudyDay {
    Instant(MORNING).study_day(Default::default())
}

/// Answers every card of a day's watch, all of them right.
fn stand(learner: &mut Learner, order: &Order, at: Instant) {
    for (n, item) in order.items.iter().enumerate() {
        let at = Instant(at.0 + n as i64 * 1_000);
        let id = AttemptId(format!("{}-{n}", at.0));
        let attempt = Attempt { id, card: item.key.clone(), ..attempt("x", "x", at.0, Outcome::Answered, "") };
        let memory = learner.after(&attempt);
        learner.take_in(&attempt, memory, at);
    }
}

#[test]
fn an_assignment_is_met_and_held_by_its_date_and_the_oral_is_not_starved() {
    let by = today().plus(6);
    let (_home, shelf, mut learner, given) = ready(Some(by));
    learner.settings.oral = Some(today().plus(60));
    learner.settings.minutes = 20;
    let budget = 20.0 * 60.0;
    let of_assignment = |key: &CardKey| key.deck.0 == "stage";
    let mut without = learner.clone();
    without.assignments.clear();
    let plain = without.order(&shelf, today(), budget);
    let plain_theirs = plain.items.iter().filter(|item| of_assignment(&item.key)).count();
    for day in 0..6 {
        let day = today().plus(day);
        let at = Instant(day.begins(learner.settings.ship).0 + 3_600_000);
        let order = learner.order(&shelf, day, budget);
        let theirs: f64 = order.items.iter().filter(|item| of_assignment(&item.key)).map(|item| item.seconds).sum();
        let all: f64 = order.items.iter().map(|item| item.seconds).sum();
        let keys: HashSet<&CardKey> = order.items.iter().map(|item| &item.key).collect();
        assert_eq!(keys.len(), order.items.len(), "each card once");
        assert!(all <= budget + 120.0, "the day's minutes hold: {all}");
        assert!(all - theirs >= budget * 0.4, "the oral has its part on {day:?}: {} of {all}", all - theirs);
        let stand = learner.stand_of(&given, &shelf, day);
        assert_eq!(stand.short, 0, "the minutes reach it");
        self::stand(&mut learner, &order, at);
    }
    let at_end = learner.stand_of(&given, &shelf, by);
    assert_eq!((at_end.cards, at_end.met, at_end.held), (CARDS, CARDS, CARDS));
    assert!(plain_theirs < CARDS / 6, "without the assignment they would come later: {plain_theirs} on the first day");
    // After its date it asks for nothing any more.
    assert!(learner.open_assignments(by.plus(1)).is_empty());
}

#[test]
fn too_little_time_is_said_and_half_is_the_most() {
    let (_home, shelf, mut learner, given) = ready(Some(today().plus(1)));
    learner.settings.oral = Some(today().plus(60));
    learner.settings.minutes = 5;
    let order = learner.order(&shelf, today(), 300.0);
    let theirs: f64 = order.items.iter().filter(|item| item.key.deck.0 == "stage").map(|item| item.seconds).sum();
    assert!(theirs > 60.0 && theirs <= 150.0, "{theirs}");
    let short = learner.stand_of(&given, &shelf, today()).short;
    assert!(short > CARDS / 2, "{short}");
    learner.settings.oral = None;
    assert!(learner.stand_of(&given, &shelf, today()).short < short, "without an oral all the time is for it");
}

#[test]
fn a_watch_is_limited_and_what_is_left_out_stays_due() {
    let (_home, shelf, mut learner, given) = ready(None);
    let day = today();
    let whole: Vec<CardKey> = learner.order(&shelf, day, 3_600.0).items.into_iter().map(|item| item.key).collect();
    let of = |learner: &Learner, only: &Only| -> Vec<CardKey> {
        learner.order_of(only, &shelf, day, 3_600.0).items.into_iter().map(|item| item.key).collect()
    };
    let deck = of(&learner, &Only::Deck(DeckId("stage".into())));
    assert_eq!(deck.len(), CARDS);
    assert_eq!(of(&learner, &Only::Assignment(given.id.clone())).len(), CARDS);
    let heading = of(&learner, &Only::Heading("earth faults of the STAGE".into()));
    assert_eq!(heading.len(), CARDS / 2);
    assert!(heading.iter().all(|key| key.card[1..].parse::<usize>().is_ok_and(|n| n % 2 == 0)));
    for (topic, within) in [("A-III/1.2.1", "A-III/1.2.1"), ("A-III/1.2", "A-III/1.2.")] {
        let keys = of(&learner, &Only::Topic(topic.into()));
        assert!(!keys.is_empty());
        assert!(keys.iter().all(|key| shelf.card(key).is_some_and(|(_, card)| card.topic.starts_with(within))));
    }
    let two = vec![CardKey::new("stage", "c3"), CardKey::new("stage", "c4"), CardKey::new("gone", "c")];
    assert_eq!(of(&learner, &Only::Cards(two.clone())), two[..2]);
    assert!(of(&learner, &Only::Deck(DeckId("gone".into()))).is_empty());
    let again: Vec<CardKey> = learner.order(&shelf, day, 3_600.0).items.into_iter().map(|item| item.key).collect();
    assert_eq!(again, whole, "a limit is for once");
    // All answered today: a limited watch goes through what is recalled least.
    let order = learner.order_of(&Only::Cards(two.clone()), &shelf, day, 3_600.0);
    stand(&mut learner, &order, Instant(MORNING));
    assert_eq!(of(&learner, &Only::Cards(two.clone())).len(), 2);
}

#[test]
fn the_terminal_offers_the_assignment_and_takes_a_limit() {
    let (home, ..) = ready(Some(today().plus(6)));
    let profile = home.path().join("profiles/cadet");
    let call = |only: &str| {
        let arguments = ["watch", "--plain", "--now", "2026-11-25T08:00:00Z", "--only", only, "--profile"];
        terminal(home.path(), &[&arguments[..], &[profile.to_str().expect("UTF-8")]].concat(), "stop\n")
    };
    let told = call("heading:Blackout of the stage");
    assert!(told.contains("Assignment 3A: Stage. Due Tuesday 1 December, in 6 days: 0 of 40"), "{told}");
    assert!(told.contains("0 of 20 cards answered"), "{told}");
    assert!(call("search:stagehand 7").contains("Figure 7 of the stagehand?"));
    for wrong in ["deck:gone", "nothing", "colour:blue"] {
        let told = call(wrong);
        assert!(told.contains("heading:WORDS") && !told.contains("cards answered"), "{told}");
    }
    assert_eq!(MORNING % DAY_MS, 8 * 3_600_000, "the morning that the calls name");
}
