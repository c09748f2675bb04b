//! What a learner hands in, from a profile: only what is on the assignment's cards, and only what was ticked.

use std::fs;
use std::path::Path;

use bedplate::app::class::assignments::keep;
use bedplate::app::class::envelope::read_hand_in;
use bedplate::domain::day::Instant;
use bedplate::domain::outcome::Outcome;
use bedplate::domain::roster::HandIn;
use bedplate::store::{FaultReport, OpenOptions, Store};
use tempfile::TempDir;

use super::school::{NOW, assignment, attempt};
use crate::support::bundled::share_in;
use crate::support::cards::write_stage;
use crate::support::home::terminal;

/// What the learner typed: a full answer and its opposite.
const TYPED: &str = "thimblerig and the dim lamp";
const DENIED: &str = "quonset, no breaker trips";

fn home() -> TempDir {
    let home = tempfile::tempdir().expect("a folder");
    share_in(home.path());
    let cards = r#"
[[recall]]
id = "a"
topic = "A-III/1.2.1"
heading = "Earth faults"
ask = "What does the dim lamp say, and what trips?"
points = [{ say = "The dim lamp is the earthed phase.", accept = ["dim lamp"] }, { say = "The breaker trips.", accept = ["breaker trips"], reject = ["no breaker trips"] }]
because = "It is so."
sources = ["practice"]
"#;
    let folder = home.path().join("decks/stage");
    fs::create_dir_all(&folder).expect("a folder");
    write_stage(&folder, cards);
    for name in ["3A", "4B"] {
        keep(home.path(), &assignment(name, &["a", "b"])).expect("kept");
    }
    let store = open(home.path());
    let attempts = vec![
        attempt("1", "a", NOW - 9_000, Outcome::Prompted, TYPED),
        attempt("2", "a", NOW - 8_000, Outcome::Prompted, DENIED),
        attempt("3", "elsewhere", NOW - 7_000, Outcome::Fluent, "none of theirs"),
        attempt("4", "b", NOW - 6_000, Outcome::Fluent, "thimblerig again"),
    ];
    store.unite(attempts).wait().expect("kept");
    store
        .void_attempts(vec![bedplate::domain::ids::AttemptId("4".into())], Instant(NOW), |_| None)
        .wait()
        .expect("void");
    let fault = |card: &str| FaultReport {
        card: bedplate::domain::ids::CardKey::new("stage", card),
        at: Instant(NOW - 500),
        note: format!("a note on {card}"),
    };
    store.report_fault(fault("a")).wait().expect("kept");
    store.report_fault(fault("elsewhere")).wait().expect("kept");
    drop(store);
    home
}

fn open(home: &Path) -> Store {
    let dir = home.join("profiles/cadet");
    Store::open(OpenOptions { dir, now: Instant(NOW), wake: std::sync::Arc::new(|| {}) }).expect("opened").store
}

fn hand_in(home: &Path, class: &str, more: &[&str]) -> (Vec<u8>, HandIn) {
    let (file, profile) = (home.join("out.handin"), home.join("profiles/cadet"));
    let assignment = format!("assignment-{}", class.to_lowercase());
    let mut arguments = vec!["hand-in", "--assignment", &assignment, "--now", "2026-12-01T10:00:00Z", "--out"];
    arguments.extend([file.to_str().expect("UTF-8"), "--profile", profile.to_str().expect("UTF-8")]);
    arguments.extend(more);
    let told = terminal(home, &arguments, "");
    let bytes = fs::read(&file).unwrap_or_else(|_| panic!("{told}"));
    let hand_in = read_hand_in(&bytes).expect("a hand-in");
    (bytes, hand_in)
}

fn holds(bytes: &[u8], words: &str) -> bool {
    bytes.windows(words.len()).any(|window| window == words.as_bytes())
}

#[test]
fn only_what_is_ticked_leaves_the_computer() {
    let home = home();
    let (bytes, plain) = hand_in(home.path(), "3A", &["--name", "Cadet 7"]);
    for kept_back in ["thimblerig", "quonset", "none of theirs", "device-", "cadet", "elsewhere", "profiles"] {
        assert!(!holds(&bytes, kept_back), "{kept_back} stands in it");
    }
    assert_eq!((plain.name.as_str(), plain.orals.as_ref(), plain.with_answers), ("Cadet 7", None, false));
    let ids: Vec<(&str, bool)> = plain.attempts.iter().map(|a| (a.id.0.as_str(), a.voided)).collect();
    assert_eq!(ids, [("1", false), ("2", false), ("4", true)], "what was taken back says so");
    assert_eq!((plain.attempts[0].said.as_slice(), plain.attempts[0].missed.as_slice()), (&[1][..], &[2][..]));
    assert_eq!((plain.attempts[0].denied.as_slice(), plain.attempts[1].denied.as_slice()), (&[][..], &[2][..]));
    assert_eq!((plain.attempts[0].edition, plain.attempts[0].seconds), (1, 12.5));
    assert_eq!(plain.faults.len(), 1);
    assert_eq!(plain.faults[0].note, "a note on a");
    // Ticked.
    let (bytes, full) = hand_in(home.path(), "3A", &["--name", "Cadet 7", "--with-answers", "--with-orals"]);
    assert!(holds(&bytes, "thimblerig") && holds(&bytes, "quonset") && !holds(&bytes, "none of theirs"));
    assert_eq!((full.orals, full.with_answers), (Some(Vec::new()), true));
    // One learner in a class, another in the next.
    assert_eq!(plain.learner, full.learner);
    let (bytes, other) = hand_in(home.path(), "4B", &[]);
    assert_ne!(plain.learner, other.learner);
    assert!(!holds(&bytes, &plain.learner));
    assert_eq!(other.name, format!("learner {}", &other.learner[..6]), "who gave no name has a code");
}

#[test]
fn a_later_hand_in_contains_the_earlier_one() {
    let home = home();
    let (_, before) = hand_in(home.path(), "3A", &[]);
    let store = open(home.path());
    store.unite(vec![attempt("9", "b", NOW + 5_000, Outcome::Answered, "later")]).wait().expect("kept");
    drop(store);
    let (_, after) = hand_in(home.path(), "3A", &[]);
    assert_eq!(after.attempts.len(), before.attempts.len() + 1);
    assert!(before.attempts.iter().all(|attempt| after.attempts.contains(attempt)));
}

#[test]
fn without_an_assignment_or_with_two_it_is_said_which_there_are() {
    let home = home();
    let out = home.path().join("out.handin");
    let call = |more: &[&str]| {
        terminal(home.path(), &[&["hand-in", "--out", out.to_str().expect("UTF-8")], more].concat(), "")
    };
    let told = call(&[]);
    assert!(told.contains("assignment-3a") && told.contains("assignment-4b"), "{told}");
    let told = call(&["--assignment", "nope"]);
    assert!(told.contains("`nope`") && told.contains("assignment-3a"), "{told}");
    assert!(!out.exists());
}
