//! The trained reader on answers that it was not made with (training/data/judge-*.jsonl, turned-judge.jsonl): its scores
//! are those that were stored, near those of another runtime, and together with the matcher of words it marks no worse
//! than it did.

use std::collections::HashMap;
use std::path::PathBuf;

use bedplate::domain::answer::{Answer, Given};
use bedplate::domain::card::Card;
use bedplate::domain::key_point::KeyPoint;
use bedplate::domain::kinds::recall::Recall;
use bedplate::domain::marking::reader::{PointReading, Reading, Score};
use bedplate::domain::marking::{PointMark, mark_read};
use serde::Deserialize;

use crate::support::bundled;
use crate::support::{cards, reader::marker};

#[derive(Deserialize)]
struct JudgeCard {
    id: String,
    ask: String,
    points: Vec<JudgePoint>,
}

#[derive(Deserialize)]
struct JudgePoint {
    say: String,
    accept: Vec<String>,
    reject: Vec<String>,
    critical: bool,
}

/// One stored answer with its labels and scores.
#[derive(Deserialize)]
struct Stored {
    card: String,
    text: String,
    /// `said`, `denied`, `nothing` or empty where the label is not known, by point.
    labels: Vec<String>,
    /// Thousandths of said and denied by this program on the day the weights were made, by point.
    ours: Vec<[u16; 2]>,
    /// The same by onnxruntime, by point.
    theirs: Vec<[u16; 2]>,
}

/// Processors add in another order, which may move a score a little before it is rounded.
const MOVES: u16 = 12;
/// Another runtime rounds the numbers between the layers otherwise: most scores are the same to a hundredth, and at most
/// this share of them is further than [`OTHERS_MOVE`] away.
const OTHERS_MOVE: u16 = 50;
const OTHERS_FURTHER: f64 = 0.05;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn lines<T: for<'a> Deserialize<'a>>(file: &str) -> Vec<T> {
    let text = std::fs::read_to_string(root().join(file)).expect("the file is where this test looks");
    text.lines().map(|line| serde_json::from_str(line).expect("a line of JSON")).collect()
}

/// The judged cards, and the bundled ones, by the name under which an answer names them.
fn judged_cards() -> HashMap<String, Card> {
    let point = |p: JudgePoint| KeyPoint { say: p.say, accept: p.accept, reject: p.reject, critical: p.critical };
    let of = |it: JudgeCard| {
        let points = it.points.into_iter().map(point).collect();
        (it.id.clone(), cards::card("judged", &it.id, &it.ask, Recall { points }.into()))
    };
    let mut all: HashMap<String, Card> = lines("training/data/judge-cards.jsonl").into_iter().map(of).collect();
    let bundled = bundled::cards().into_iter().map(|card| (card.key.to_string(), card));
    all.extend(bundled);
    all
}

fn points(card: &Card, text: &str, reading: &Reading) -> Vec<PointMark> {
    let answer = Answer::of(Given::Text(text.to_owned()));
    let marking = mark_read(card, &answer, Some(reading)).expect("typed words fit a recall");
    marking.detail.points().expect("a recall has points").to_vec()
}

fn decided(marks: &[PointMark]) -> Vec<(bool, bool, bool)> {
    marks.iter().map(|mark| (mark.said, mark.contradicted, mark.unsure)).collect()
}

/// A reading in which each likelihood is moved by a step.
fn moved(reading: &Reading, step: i16) -> Reading {
    let moved = |score: Score| Score(score.0.saturating_add_signed(step).min(1_000));
    let point = |point: &PointReading| PointReading {
        said: moved(point.said),
        denied: moved(point.denied),
        evidence: point.evidence.clone(),
    };
    Reading { points: reading.points.iter().map(point).collect() }
}

#[derive(Default)]
struct Count {
    right: usize,
    found: usize,
    labelled: usize,
}

impl Count {
    fn add(&mut self, found: bool, labelled: bool) {
        self.right += usize::from(found && labelled);
        self.found += usize::from(found);
        self.labelled += usize::from(labelled);
    }

    fn f1(&self) -> f64 {
        2.0 * self.right as f64 / (self.found + self.labelled).max(1) as f64
    }

    fn recall(&self) -> f64 {
        self.right as f64 / self.labelled.max(1) as f64
    }
}

#[test]
fn stored_answers_are_scored_and_marked_as_they_were() {
    let cards = judged_cards();
    let stored: Vec<Stored> = lines("tests/reference/reader-scores.jsonl");
    let scores: usize = stored.iter().map(|it| it.ours.len()).sum();
    assert!(scores >= 500, "{scores} scores");
    let (mut said, mut denied, mut credited, mut told) =
        (Count::default(), Count::default(), Count::default(), Count::default());
    let (mut wrong, mut further) = (Vec::new(), 0);
    for it in &stored {
        let card = &cards[&it.card];
        let reading = marker().read(card, &Given::Text(it.text.clone())).expect("typed words are read");
        for (at, read) in reading.points.iter().enumerate() {
            let far = |from: [u16; 2]| read.said.0.abs_diff(from[0]).max(read.denied.0.abs_diff(from[1]));
            if far(it.ours[at]) > MOVES {
                wrong.push(format!("{} point {}: {read:?}, stored {:?}", it.card, at + 1, it.ours[at]));
            }
            further += usize::from(far(it.theirs[at]) > OTHERS_MOVE);
        }
        let marks = points(card, &it.text, &reading);
        for step in [-1, 1] {
            if decided(&points(card, &it.text, &moved(&reading, step))) != decided(&marks) {
                wrong.push(format!("{}: a decision lies within the rounding of “{}”", it.card, it.text));
            }
        }
        // Answers to the judged cards are whole; the others are single statements about one point.
        let is_whole = !it.card.contains('/');
        for (mark, label) in marks.iter().zip(&it.labels).filter(|(_, label)| !label.is_empty()) {
            if is_whole {
                said.add(mark.said, label == "said");
                denied.add(mark.contradicted, label == "denied");
            } else if label == "denied" {
                credited.add(mark.said, true);
                told.add(mark.contradicted, true);
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let further = further as f64 / scores as f64;
    assert!(further <= OTHERS_FURTHER, "{further:.3} of the scores are far from those of the other runtime");
    let figures = [said.f1(), denied.f1(), credited.recall(), told.recall()];
    assert!(figures[0] >= 0.86 && figures[1] >= 0.62, "F1 of said and denied: {figures:?}");
    assert!(figures[2] <= 0.04 && figures[3] >= 0.85, "dangerous statements credited and told: {figures:?}");
}

#[test]
fn a_longer_answer_than_fits_at_once_is_read_to_its_end() {
    let cards = judged_cards();
    let card = &cards["inert-gas-oxygen"];
    let padding = "We had a good crossing and the weather was fine all the way down to the Cape. ".repeat(30);
    let text = format!("{padding}No more than five per cent of oxygen in the gas that we deliver.");
    let reading = marker().read(card, &Given::Text(text)).expect("typed words are read");
    assert!(reading.points[0].said > Score(700), "{reading:?}");
}

#[test]
fn an_answer_without_words_says_nothing() {
    let cards = judged_cards();
    for text in ["", "   ", "\n"] {
        let reading = marker().read(&cards["inert-gas-oxygen"], &Given::Text(text.to_owned())).expect("read");
        assert!(reading.points.iter().all(|point| point.said == Score(0) && point.evidence.is_none()));
    }
}
