//! A class made up for tests: an assignment of a small deck, learners who answer its cards, hand-ins.

use std::fs;
use std::path::{Path, PathBuf};

use bedplate::app::class::envelope::write_hand_in;
use bedplate::domain::answer::Given;
use bedplate::domain::attempt::{Attempt, Evidence};
use bedplate::domain::day::{Instant, StudyDay};
use bedplate::domain::ids::{AttemptId, CardKey, DeckId};
use bedplate::domain::outcome::{Notch, Outcome};
use bedplate::domain::roster::{
    AssignedCard, AssignedDeck, Assignment, ClassName, HandIn, HandedAttempt, HandedFault, HandedFunction, HandedOral,
};

/// The usual time.
pub const NOW: i64 = 1_796_000_000_000;

/// The class `3A`, or another of the name.
pub fn class(name: &str) -> ClassName {
    ClassName { id: format!("class-{}", name.to_lowercase()), name: name.to_owned() }
}

/// An assignment for a class: the cards of the deck `stage` of these ids, two headings of one competence.
pub fn assignment(name: &str, cards: &[&str]) -> Assignment {
    let card = |(at, id): (usize, &&str)| AssignedCard {
        card: CardKey::new("stage", id),
        topic: "A-III/1.2.1".to_owned(),
        heading: Some(if at % 2 == 0 { "Earth faults" } else { "Blackout" }.to_owned()),
        weight: 2,
        text: None,
    };
    Assignment {
        id: format!("assignment-{}", name.to_lowercase()),
        class: class(name),
        made: Instant(NOW),
        by: Some(StudyDay(20_800)),
        minutes: Some(20),
        blueprint: None,
        send_to: Some("by mail".to_owned()),
        decks: vec![AssignedDeck { id: DeckId("stage".to_owned()), title: "Stage".to_owned(), edition: 1 }],
        cards: cards.iter().enumerate().map(card).collect(),
    }
}

/// An attempt at a card of the deck `stage`, in the store's form.
pub fn attempt(id: &str, card: &str, at: i64, outcome: Outcome, typed: &str) -> Attempt {
    Attempt {
        id: AttemptId(id.to_owned()),
        card: CardKey::new("stage", card),
        at: Instant(at),
        ship: Default::default(),
        device: "device-under-test".to_owned(),
        evidence: Evidence {
            given: Given::Text(typed.to_owned()),
            edition: 1,
            points_said: vec![1],
            points_missed: vec![2],
        },
        outcome,
        notch: Notch::None,
        seconds: 12.5,
    }
}

/// The same as handed in, with what was typed.
pub fn handed(id: &str, card: &str, at: i64, outcome: Outcome, typed: &str) -> HandedAttempt {
    let kept = attempt(id, card, at, outcome, typed);
    let answer = (!typed.is_empty()).then(|| kept.evidence.given.clone());
    HandedAttempt { answer, ..HandedAttempt::of(&kept, false, Vec::new(), None) }
}

/// A hand-in with an oral and a fault, made so many milliseconds after the usual time.
pub fn hand_in(learner: &str, name: &str, after: i64, attempts: Vec<HandedAttempt>) -> HandIn {
    let functions = vec![HandedFunction { function: "A-III/1.2".to_owned(), share: 0.5 }];
    let oral = HandedOral {
        id: format!("oral-{learner}"),
        at: Instant(NOW - 5_000),
        share: 0.5,
        passed: false,
        questions: 4,
        functions,
    };
    HandIn {
        assignment: assignment("3A", &["a", "b", "c"]),
        learner: learner.to_owned(),
        name: name.to_owned(),
        made: Instant(NOW + after),
        with_answers: attempts.iter().any(|attempt| attempt.answer.is_some()),
        attempts,
        orals: Some(vec![oral]),
        faults: vec![HandedFault {
            card: CardKey::new("stage", "a"),
            at: Instant(NOW - 4_000),
            note: format!("a note by {name}"),
        }],
    }
}

/// Writes a hand-in into a folder.
pub fn write(folder: &Path, file: &str, hand_in: &HandIn) -> PathBuf {
    let path = folder.join(file);
    fs::write(&path, write_hand_in(hand_in).expect("it is one")).expect("written");
    path
}
