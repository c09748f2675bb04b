//! How well typed answers are marked, measured on labelled answers (tests/reference/answers-*.toml). Two sets are open
//! to whoever tunes the matcher; the held set is never looked at: this test prints totals of it and nothing else.

use std::fmt::Write as _;
use std::path::PathBuf;

use bedplate::domain::answer::{Answer, Given};
use bedplate::domain::card::Card;
use bedplate::domain::key_point::KeyPoint;
use bedplate::domain::kinds::recall::Recall;
use bedplate::domain::kinds::{Body, Detail, recall};
use bedplate::domain::marking::mark;
use serde::Deserialize;

use crate::marking::kinds::card;

#[derive(Deserialize)]
struct Set {
    card: Vec<LabelledCard>,
}

#[derive(Deserialize)]
struct LabelledCard {
    id: String,
    ask: String,
    point: Vec<LabelledPoint>,
    answer: Vec<LabelledAnswer>,
}

#[derive(Deserialize)]
struct LabelledPoint {
    say: String,
    #[serde(default)]
    accept: Vec<String>,
    #[serde(default)]
    reject: Vec<String>,
    #[serde(default)]
    critical: bool,
}

#[derive(Deserialize)]
struct LabelledAnswer {
    text: String,
    said: Vec<usize>,
    #[serde(default)]
    contradicted: Vec<usize>,
}

/// F1 of said points and of contradicted ones, at most what was measured on 25 November 2026: 0.935 and 0.894, 0.929
/// and 0.869 on the answers tuned on. On those kept aside 0.874 and 0.829 at the second look, 0.875 and 0.815 at the
/// third, after families were added: five more points rightly said, five more wrongly said, three more wrongly
/// contradicted.
const TUNED_FLOORS: (f64, f64) = (0.92, 0.87);
const TUNED_2_FLOORS: (f64, f64) = (0.91, 0.85);
const HELD_FLOORS: (f64, f64) = (0.865, 0.815);

/// Right, wrongly found and missed.
#[derive(Default)]
struct Count {
    right: usize,
    extra: usize,
    missed: usize,
}

impl Count {
    fn add(&mut self, found: bool, labelled: bool) {
        match (found, labelled) {
            (true, true) => self.right += 1,
            (true, false) => self.extra += 1,
            (false, true) => self.missed += 1,
            (false, false) => {}
        }
    }

    fn precision(&self) -> f64 {
        self.right as f64 / (self.right + self.extra).max(1) as f64
    }

    fn recall(&self) -> f64 {
        self.right as f64 / (self.right + self.missed).max(1) as f64
    }

    fn f1(&self) -> f64 {
        2.0 * self.right as f64 / (2 * self.right + self.extra + self.missed).max(1) as f64
    }
}

struct Measured {
    said: Count,
    contradicted: Count,
    answers: usize,
    /// What was marked otherwise than labelled, for tuning.
    differences: String,
}

fn load(name: &str) -> Set {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/reference").join(name);
    let text = std::fs::read_to_string(&path).expect("the labelled answers are in the repository");
    toml::from_str(&text).expect("the labelled answers are sound")
}

fn measure(set: &Set) -> Measured {
    let mut all =
        Measured { said: Count::default(), contradicted: Count::default(), answers: 0, differences: String::new() };
    for labelled in &set.card {
        let points = labelled.point.iter().map(|p| KeyPoint {
            say: p.say.clone(),
            accept: p.accept.clone(),
            reject: p.reject.clone(),
            critical: p.critical,
        });
        let body = Body::Recall(Recall { points: points.collect() });
        let asked = Card { ask: labelled.ask.clone(), ..card(body) };
        for answer in &labelled.answer {
            all.answers += 1;
            compare(&asked, labelled, answer, &mut all);
        }
    }
    all
}

fn compare(asked: &Card, labelled: &LabelledCard, answer: &LabelledAnswer, all: &mut Measured) {
    let marking = mark(asked, &Answer::of(Given::Text(answer.text.clone()))).expect("a typed answer");
    let Detail::Recall(recall::Told { points }) = marking.detail else { panic!("a recall's marking") };
    for (at, found) in points.iter().enumerate() {
        let said = answer.said.contains(&(at + 1));
        let contradicted = answer.contradicted.contains(&(at + 1));
        all.said.add(found.said, said);
        all.contradicted.add(found.contradicted, contradicted);
        if found.said != said || found.contradicted != contradicted {
            let word = |s: bool, c: bool| {
                if s {
                    "said"
                } else if c {
                    "contradicted"
                } else {
                    "-"
                }
            };
            let _ = writeln!(
                all.differences,
                "{} point {} ({}): found {}, labelled {}; evidence {:?}\n    {}",
                labelled.id,
                at + 1,
                labelled.point[at].say,
                word(found.said, found.contradicted),
                word(said, contradicted),
                found.evidence,
                answer.text
            );
        }
    }
}

/// The measure in one line.
fn report(name: &str, measured: &Measured) -> String {
    let Measured { said, contradicted, answers, .. } = measured;
    format!(
        "{name}: {answers} answers; said: precision {:.3}, recall {:.3}, F1 {:.3} ({}/{}/{}); contradicted: precision {:.3}, recall {:.3}, F1 {:.3} ({}/{}/{})",
        said.precision(),
        said.recall(),
        said.f1(),
        said.right,
        said.extra,
        said.missed,
        contradicted.precision(),
        contradicted.recall(),
        contradicted.f1(),
        contradicted.right,
        contradicted.extra,
        contradicted.missed,
    )
}

fn assert_floors(name: &str, (said, contradicted): (f64, f64)) {
    let measured = measure(&load(name));
    let is_kept = measured.said.f1() >= said && measured.contradicted.f1() >= contradicted;
    assert!(is_kept, "{}; floors are F1 {said} and {contradicted}", report(name, &measured));
}

#[test]
fn points_are_found_in_the_answers_that_were_tuned_on() {
    assert_floors("answers-tune.toml", TUNED_FLOORS);
    assert_floors("answers-tune-2.toml", TUNED_2_FLOORS);
}

#[test]
fn points_are_found_in_the_answers_that_were_kept_aside() {
    assert_floors("answers-held.toml", HELD_FLOORS);
}

/// Prints how well each set is marked, and the differences of those that were tuned on.
#[test]
#[ignore = "a measurement: to be run with --nocapture while the marking of text is changed"]
fn measured_over_every_set() {
    for (name, is_tuned) in [("answers-tune.toml", true), ("answers-tune-2.toml", true), ("answers-held.toml", false)] {
        let measured = measure(&load(name));
        println!("{}", report(name, &measured));
        if is_tuned {
            println!("{}", measured.differences);
        }
    }
}
