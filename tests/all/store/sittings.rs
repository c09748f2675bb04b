//! Sittings and events are kept turn by turn, once, and nothing of them is ever changed.

use bedplate::domain::answer::Given;
use bedplate::domain::certificate::Certificate;
use bedplate::domain::day::{Instant, ShipOffset};
use bedplate::domain::ids::CardKey;
use bedplate::domain::oral::{
    Answered, Asked, Blueprint, Draw, Manner, Mark, MarkedBy, Question, Setup, Sitting, Turn,
};
use bedplate::domain::outcome::Outcome;
use bedplate::store::{KeptEvent, KeptSitting, Store};

use super::basics::{NOW, attempt, known, options};

fn kept(id: &str) -> KeptSitting {
    let setup = Setup {
        blueprint: Blueprint::standard(Certificate::Watch),
        draw: Draw::Mock,
        manner: Manner::Steady,
        seed: 7,
        recent: vec![CardKey::new("marram-light", "card-9")],
    };
    KeptSitting {
        id: id.to_owned(),
        at: NOW,
        ship: ShipOffset::from_minutes(180).unwrap(),
        device: "device-1".to_owned(),
        sitting: Sitting::begin(setup),
        ended: None,
        early: false,
    }
}

fn turn(n: usize) -> Turn {
    let question = Question {
        id: format!("marram-light/card-{n}"),
        card: CardKey::new("marram-light", &format!("card-{n}")),
        competence: "A-III/1.1.4".to_owned(),
        depth: 0,
        asked: Asked::Lead,
        about: None,
        lead_in: String::new(),
        ask: "What do you do?".to_owned(),
        points: Vec::new(),
        sources: vec!["Common practice".to_owned()],
        limit_seconds: 120.0,
    };
    let answer = Answered {
        given: Some(Given::Said(vec![1])),
        marks: vec![Mark { say: "This".to_owned(), earned: 1.0, critical: true }],
        outcome: Outcome::Answered,
        ran_dry: false,
        seconds: 31.5,
        by: MarkedBy::Second,
        note: "Slow, but right.".to_owned(),
        recording: Some("a.wav".to_owned()),
    };
    Turn { question, answer: Some(answer) }
}

#[test]
fn a_sitting_comes_back_as_it_was_kept() {
    let dir = tempfile::tempdir().unwrap();
    let begun = kept("s-1");
    let first = attempt("card-0", 0);
    {
        let store = Store::open(options(dir.path(), NOW)).unwrap().store;
        store.begin_sitting(begun.clone()).wait().unwrap();
        store.begin_sitting(begun.clone()).wait().unwrap();
        let with = Some((first.clone(), known(&first, 1)));
        store.keep_turn("s-1".to_owned(), 0, turn(0), with.clone()).wait().unwrap();
        store.keep_turn("s-1".to_owned(), 0, turn(0), with).wait().unwrap();
        store.keep_turn("s-1".to_owned(), 1, turn(1), None).wait().unwrap();
    }
    let opened = Store::open(options(dir.path(), NOW)).unwrap();
    let mut whole = begun.clone();
    whole.sitting.turns = vec![turn(0), turn(1)];
    assert_eq!(opened.store.sittings().wait().unwrap(), vec![whole.clone()]);
    assert_eq!(opened.attempts_count, 1, "the attempt is there once");
    assert_eq!(opened.memory.len(), 1, "and what is known of its card");
    opened.store.end_sitting("s-1".to_owned(), Instant(NOW.0 + 5)).wait().unwrap();
    opened.store.end_sitting("s-1".to_owned(), Instant(NOW.0 + 9)).wait().unwrap();
    whole.ended = Some(Instant(NOW.0 + 5));
    assert_eq!(opened.store.sittings().wait().unwrap(), vec![whole]);
}

#[test]
fn a_turn_is_never_written_over_and_a_bad_one_takes_nothing_with_it() {
    let dir = tempfile::tempdir().unwrap();
    let opened = Store::open(options(dir.path(), NOW)).unwrap();
    let store = &opened.store;
    store.begin_sitting(kept("s-1")).wait().unwrap();
    store.keep_turn("s-1".to_owned(), 0, turn(0), None).wait().unwrap();
    let mut other = turn(0);
    other.question.ask = "Another question?".to_owned();
    let refused = store.keep_turn("s-1".to_owned(), 0, other, None).wait().unwrap_err();
    assert!(refused.to_string().contains("another answer is already kept"), "{refused}");
    let mut nonsense = attempt("card-1", 1);
    nonsense.seconds = f64::NAN;
    let with = Some((nonsense.clone(), known(&nonsense, 1)));
    assert!(store.keep_turn("s-1".to_owned(), 1, turn(1), with).wait().is_err());
    assert!(
        store.keep_turn("no-such-sitting".to_owned(), 0, turn(0), None).wait().is_err(),
        "its sitting must be there"
    );
    assert_eq!(store.sittings().wait().unwrap()[0].sitting.turns.len(), 1);
    let conn = rusqlite::Connection::open(dir.path().join("profile.sqlite")).unwrap();
    for sql in [
        "UPDATE sitting_turn SET n = 5",
        "DELETE FROM sitting_turn",
        "UPDATE sitting SET device = ''",
        "DELETE FROM event",
    ] {
        let tried =
            conn.execute_batch(&format!("INSERT INTO event (at_ms, kind, json) VALUES (1, 'plan', '1'); {sql}"));
        assert!(tried.unwrap_err().to_string().contains("only ever added"), "{sql}");
    }
}

#[test]
fn the_newest_event_holds() {
    let dir = tempfile::tempdir().unwrap();
    let store = Store::open(options(dir.path(), NOW)).unwrap().store;
    assert_eq!(store.newest_event("plan").wait().unwrap(), None);
    let event = |json: &str| KeptEvent { at: NOW, json: json.to_owned() };
    for json in ["{\"a\":1}", "{\"a\":2}"] {
        store.add_event("plan", event(json)).wait().unwrap();
    }
    store.add_event("parameters", event("[1]")).wait().unwrap();
    assert!(store.add_event("plan", event("no JSON")).wait().is_err());
    assert_eq!(store.newest_event("plan").wait().unwrap(), Some(event("{\"a\":2}")));
    assert_eq!(store.events("plan").wait().unwrap().len(), 2);
}

#[test]
fn a_sitting_ended_by_hand_is_told_from_one_that_is_over_and_goes_on_when_taken_up() {
    let dir = tempfile::tempdir().unwrap();
    let at = |n: i64| Instant(NOW.0 + n);
    let read = |store: &Store| {
        let all = store.sittings().wait().unwrap();
        all.into_iter().map(|kept| (kept.id, kept.ended, kept.early)).collect::<Vec<_>>()
    };
    {
        let store = Store::open(options(dir.path(), NOW)).unwrap().store;
        store.begin_sitting(kept("s-1")).wait().unwrap();
        store.begin_sitting(kept("s-2")).wait().unwrap();
        store.begin_sitting(KeptSitting { ended: Some(at(3)), early: true, ..kept("s-3") }).wait().unwrap();
        store.end_sitting_early("s-1".to_owned(), at(5)).wait().unwrap();
        store.end_sitting("s-2".to_owned(), at(6)).wait().unwrap();
    }
    let store = Store::open(options(dir.path(), NOW)).unwrap().store;
    let of = |id: &str, ended, early| (id.to_owned(), ended, early);
    assert_eq!(
        read(&store),
        [of("s-1", Some(at(5)), true), of("s-2", Some(at(6)), false), of("s-3", Some(at(3)), true)]
    );
    store.take_up_sitting("s-1".to_owned(), at(7)).wait().unwrap();
    assert_eq!(read(&store)[0], of("s-1", None, false), "taken up, it is being sat again");
    store.end_sitting_early("s-1".to_owned(), at(8)).wait().unwrap();
    assert_eq!(read(&store)[0], of("s-1", Some(at(8)), true));
    store.take_up_sitting("s-1".to_owned(), at(9)).wait().unwrap();
    store.end_sitting("s-1".to_owned(), at(10)).wait().unwrap();
    assert_eq!(read(&store)[0], of("s-1", Some(at(10)), false), "it came to its last question");
}
