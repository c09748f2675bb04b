//! The commands of a class from outside, from the assignment to the forgotten learner.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;
use tempfile::TempDir;

use super::school::{NOW, attempt};
use crate::support::bundled::share_in;
use crate::support::cards::write_stage;
use bedplate::domain::day::Instant;
use bedplate::domain::outcome::Outcome;
use bedplate::store::{OpenOptions, Store};

struct Told {
    code: i32,
    out: String,
    errors: String,
}

impl Told {
    fn json(&self) -> Value {
        serde_json::from_str(&self.out).unwrap_or_else(|_| panic!("{}{}", self.out, self.errors))
    }
}

struct College {
    folder: TempDir,
}

impl College {
    fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let deck = folder.path().join("deck");
        fs::create_dir_all(&deck).expect("a folder");
        let card = |id: &str, heading: &str, weight: u8| {
            format!(
                "[[recall]]\nid = \"{id}\"\ntopic = \"A-III/1.2.1\"\nheading = \"{heading}\"\nask = \"What of {id}?\"\n\
                 points = [{{ say = \"The first of {id}.\", accept = [\"first\"] }}, {{ say = \"The second of {id}.\", accept = [\"second\"] }}]\n\
                 because = \"So.\"\nsources = [\"practice\"]\nweight = {weight}\n\n"
            )
        };
        let cards = [card("a", "Earth faults", 3), card("b", "Earth faults", 2), card("c", "Blackout", 2)].concat();
        write_stage(&deck, &cards);
        let college = Self { folder };
        for home in ["lecturer", "one", "two"] {
            share_in(&college.at(home));
        }
        college
    }

    fn at(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn call(&self, home: &str, arguments: &[&str]) -> Told {
        let output = Command::new(env!("CARGO_BIN_EXE_bedplate"))
            .args(arguments)
            .current_dir(self.folder.path())
            .env("BEDPLATE_HOME", self.at(home))
            .env("BEDPLATE_LEARNER", home)
            .stdin(std::process::Stdio::null())
            .output()
            .expect("it runs");
        let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
        Told { code: output.status.code().unwrap_or(-1), out: text(&output.stdout), errors: text(&output.stderr) }
    }

    fn answer(&self, home: &str, outcomes: [Outcome; 3]) {
        let dir = self.at(home).join("profiles").join(home);
        let opened = Store::open(OpenOptions { dir, now: Instant(NOW), wake: std::sync::Arc::new(|| {}) });
        let store = opened.expect("opened").store;
        let cards = ["a", "b", "c"].into_iter().zip(outcomes).enumerate();
        let attempts = cards.map(|(n, (card, outcome))| {
            attempt(&format!("{home}-{n}"), card, NOW - 10_000 + n as i64, outcome, "the typed words")
        });
        store.unite(attempts.collect()).wait().expect("kept");
    }
}

fn keys(value: &Value) -> Vec<&str> {
    value.as_object().expect("an object").keys().map(String::as_str).collect()
}

fn file(path: &Path) -> Vec<u8> {
    fs::read(path).expect("there")
}

#[test]
fn a_class_goes_from_the_assignment_to_the_lesson() {
    let college = College::new();
    let by = "2027-01-15";
    let arguments = [
        "assign",
        "--class",
        "3A",
        "--decks",
        "deck",
        "--by",
        by,
        "--minutes",
        "20",
        "--out",
        "3a.bedplate",
        "--plain",
        "--json",
    ];
    let given = college.call("lecturer", &arguments);
    assert_eq!(given.code, 0, "{}", given.errors);
    let id = given.json()["assignment"].as_str().expect("an id").to_owned();
    let shown = college.call("one", &["show", "3a.bedplate"]);
    assert_eq!(shown.code, 0);
    assert!(
        shown.out.contains("3A") && shown.out.contains(&id) && shown.out.contains("Stage, edition 1"),
        "{}",
        shown.out
    );
    // Nobody has said that the lecturer is trusted.
    let refused = college.call("one", &["install", "3a.bedplate", "--json"]);
    assert_eq!((refused.code, refused.json()["refused"]["code"].as_str()), (1, Some("untrusted")));
    assert!(!college.at("one").join("assignments").exists() && !college.at("one").join("taken-in").exists());
    for home in ["one", "two"] {
        let taken = college.call(home, &["install", "3a.bedplate", "--trust", "--json"]);
        assert_eq!((taken.code, taken.json()["assignment"].as_str()), (0, Some(id.as_str())), "{}", taken.errors);
        assert_eq!(college.call(home, &["install", "3a.bedplate", "--json"]).code, 0, "again is all the same");
    }
    college.answer("one", [Outcome::Answered, Outcome::Fluent, Outcome::Prompted]);
    college.answer("two", [Outcome::Missed, Outcome::Missed, Outcome::Answered]);
    for home in ["one", "two"] {
        let out = format!("{home}.handin");
        let told = college.call(home, &["hand-in", "--out", &out, "--assignment", &id, "--name", home, "--json"]);
        assert_eq!((told.code, told.json()["attempts"].as_u64()), (0, Some(3)), "{}", told.errors);
    }
    let mut bad = file(&college.at("one.handin"));
    bad[300] ^= 4;
    fs::write(college.at("bad.handin"), bad).expect("written");
    let told =
        college.call("lecturer", &["class", "add", "3A", "bad.handin", "one.handin", "two.handin", "3a.bedplate"]);
    assert_eq!(told.code, 1);
    assert!(told.errors.contains("bad.handin") && told.errors.contains("damaged"), "{}", told.errors);
    assert!(told.errors.contains("3a.bedplate was not taken in: it is not a hand-in"), "{}", told.errors);
    assert_eq!(college.call("lecturer", &["class", "add", "3A", "two.handin"]).code, 0);
    let show = college.call("lecturer", &["class", "show", "3A", "--json"]).json();
    assert_eq!(keys(&show), ["areas", "class", "items", "learners", "lesson", "reliability"]);
    let learner = &show["learners"][0];
    assert_eq!(keys(learner), ["assigned", "first_right", "last", "met", "name", "orals", "recall"]);
    assert_eq!((&learner["name"], &learner["met"], &learner["assigned"]), (&"one".into(), &3.into(), &3.into()));
    assert!((learner["first_right"].as_f64().expect("a share") - 2.0 / 3.0).abs() < 1e-12);
    assert!(learner["last"].as_str().expect("a time").ends_with('Z'));
    let item = &show["items"][0];
    assert_eq!(keys(item), ["card", "discrimination", "facility", "n", "points", "suspect"]);
    assert_eq!((&item["card"], &item["n"], &item["facility"]), (&"stage/a".into(), &2.into(), &0.5.into()));
    assert_eq!(
        item["points"],
        serde_json::json!([{"n": 2, "point": 1, "said": 1.0}, {"n": 2, "point": 2, "said": 0.0}])
    );
    assert_eq!(keys(&show["reliability"]), ["alpha", "high", "items", "learners", "low", "se", "sem"]);
    assert_eq!((&show["reliability"]["learners"], &show["reliability"]["items"]), (&2.into(), &3.into()));
    assert_eq!(keys(&show["areas"][0]), ["first_right", "heading", "n", "topic"]);
    assert_eq!((&show["areas"][0]["heading"], &show["areas"][0]["n"]), (&Value::Null, &6.into()));
    assert_eq!(keys(&show["lesson"][0]), ["cards", "gain", "heading", "minutes", "points"]);
    assert_eq!(show["lesson"][0]["heading"], "Earth faults");
    assert_eq!(show["lesson"][0]["cards"][0], "stage/a");
    assert_eq!(show["lesson"][0]["points"][0], "The second of a.");
    // One learner fewer than two answers every card of it: what cannot be worked out is null.
    let none = college.call("lecturer", &["class", "show", "3A", "--json", "--deck", "gone"]);
    assert_eq!(none.code, 2);
    let text = college.call("lecturer", &["class", "show", "3A"]);
    assert!(text.out.contains("Earth faults") && text.out.contains("a hint, no more"), "{}", text.out);
    let pdf = college.call("lecturer", &["class", "report", "3A", "--pdf", "3a.pdf"]);
    assert!(pdf.code == 0 && file(&college.at("3a.pdf")).starts_with(b"%PDF"));
    assert_eq!(college.call("lecturer", &["class", "report", "3A", "--csv", "3a.csv"]).code, 0);
    let csv = String::from_utf8(file(&college.at("3a.csv"))).expect("UTF-8");
    assert_eq!(csv.lines().count(), 3, "{csv}");
    let forgotten = college.call("lecturer", &["class", "forget", "3A", "two"]);
    assert!(forgotten.code == 0 && forgotten.out.contains("for good"), "{}", forgotten.out);
    assert_eq!(college.call("lecturer", &["class", "add", "3A", "two.handin"]).code, 1);
    let show = college.call("lecturer", &["class", "show", "3A", "--json"]).json();
    assert_eq!(show["learners"].as_array().map(Vec::len), Some(1));
    assert_eq!((&show["reliability"]["alpha"], &show["items"][0]["discrimination"]), (&Value::Null, &Value::Null));
}

#[test]
fn decks_are_given_out_from_folders_files_and_the_home() {
    let college = College::new();
    let assign = |decks: &[&str], out: &str| {
        let arguments = [&["assign", "--class", "3A", "--out", out, "--plain", "--json", "--decks"], decks].concat();
        college.call("lecturer", &arguments)
    };
    assert_eq!(college.call("lecturer", &["seal", "deck", "--out", "stage.bedplate", "--plain"]).code, 0);
    let from_file = assign(&["stage.bedplate"], "a.bedplate");
    assert_eq!(from_file.code, 0, "{}", from_file.errors);
    assert_eq!(college.call("lecturer", &["install", "stage.bedplate", "--trust"]).code, 0);
    let from_home = assign(&["stage"], "b.bedplate");
    assert_eq!(from_home.code, 0, "{}", from_home.errors);
    // What was taken in is given on as it came.
    let sealed = file(&college.at("stage.bedplate"));
    assert!(file(&college.at("b.bedplate")).ends_with(&sealed));
    // A deck of the program is in the home; at the learner's it is there already.
    let bundled = assign(&["construction-and-stability"], "c.bedplate");
    assert_eq!(bundled.code, 0, "{}", bundled.errors);
    let taken = college.call("one", &["install", "c.bedplate", "--json"]);
    assert_eq!((taken.code, &taken.json()["refused"]), (0, &Value::Null), "{}", taken.out);
    for (decks, what) in
        [(&["gone"][..], "gone"), (&["deck", "stage.bedplate"], "same id"), (&["a.bedplate"], "a.bedplate")]
    {
        let told = assign(decks, "no.bedplate");
        assert!(told.code == 1 && told.errors.contains(what), "{decks:?}: {} {}", told.code, told.errors);
        assert!(!college.at("no.bedplate").exists());
    }
    assert_eq!(college.call("one", &["class", "show", "3A"]).code, 2);
}
