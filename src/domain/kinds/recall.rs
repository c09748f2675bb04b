//! Recall: key points to say, ticked as said or found in a typed answer.

use std::ops::Range;

use serde::Serialize;

use super::kind::{CardKind, Facts, Handed, Marked, Marks, Weighed};
use crate::domain::answer::{Form, Given};
use crate::domain::editions::{Line, Part, What};
use crate::domain::english::{capital as sentence, in_words};
use crate::domain::key_point::KeyPoint;
use crate::domain::marking::common::{check_positions, counted};
use crate::domain::marking::join::join;
use crate::domain::marking::reader::PointReading;
use crate::domain::marking::text::{self, Finding};
use crate::domain::marking::{AnswerError, Joined, PointMark, Scores};
use crate::domain::outcome::Outcome;

pub(super) const FACTS: Facts =
    Facts { word: "recall", forms: &[Form::Text, Form::Said], first_seconds: 45.0, oral_seconds: 120.0 };

/// A recall card's key points, one to nine.
#[derive(Debug, Clone, PartialEq)]
pub struct Recall {
    /// In the deck's order.
    pub points: Vec<KeyPoint>,
}

/// What only the marking of a recall tells: key points found.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Told {
    /// One for each of the card's points, in order.
    pub points: Vec<PointMark>,
}

impl CardKind for Recall {
    fn facts(&self) -> &'static Facts {
        &FACTS
    }

    fn rule(&self, fluent: &str) -> String {
        let or = self.is_critical().then_some("a safety-critical one not said");
        counted(self.points.len(), "said", "", fluent, or)
    }

    fn expected(&self) -> Vec<KeyPoint> {
        self.points.clone()
    }

    fn asked(&self) -> Vec<Part> {
        let points = self.points.iter().map(|point| Line::new(&point.say).critical(point.critical));
        vec![Part::any_order(What::Points, points)]
    }

    fn texts(&self) -> Vec<&str> {
        let words = self.points.iter().flat_map(|point| std::iter::once(&point.say).chain(&point.accept));
        words.map(String::as_str).collect()
    }

    fn key_points(&self) -> Option<&[KeyPoint]> {
        Some(&self.points)
    }

    fn is_plain_question(&self) -> bool {
        true
    }

    fn answer_in_words(&self) -> String {
        self.points.iter().map(|point| format!("{} ", point.say)).collect()
    }
}

impl Marks for Recall {
    type Told = Told;

    fn mark(&self, answer: &Handed<'_>) -> Result<Marked<Told>, AnswerError> {
        match answer.given {
            Given::Said(said) => mark_said(self, said, answer.in_time),
            Given::Text(text) => Ok(mark_text(self, text, answer)),
            _ => Err(FACTS.wrong_form()),
        }
    }

    fn weigh(&self, told: &Told, _: Outcome) -> Vec<Weighed> {
        let points = self.points.iter().zip(&told.points);
        points.map(|(point, mark)| Weighed::there(&point.say, mark.said, point.critical)).collect()
    }
}

impl Recall {
    /// Why its points, marked so, come to what they come to, in a sentence.
    pub fn reason_of(&self, points: &[PointMark]) -> String {
        let said = points.iter().filter(|p| p.said).count();
        reason(points, said, self.unsafe_miss(points))
    }

    /// The first safety-critical point (from 0) that is not said.
    fn unsafe_miss(&self, points: &[PointMark]) -> Option<usize> {
        (0..points.len()).find(|at| self.points[*at].critical && !points[*at].said)
    }
}

/// Marks points ticked by number, from 1.
fn mark_said(recall: &Recall, said: &[usize], in_time: bool) -> Result<Marked<Told>, AnswerError> {
    check_positions(said, recall.points.len(), "point")?;
    let mark = |at: usize| PointMark::ticked(said.contains(&(at + 1)));
    Ok(conclude(recall, (0..recall.points.len()).map(mark).collect(), in_time))
}

/// Marks a typed answer.
fn mark_text(recall: &Recall, text: &str, answer: &Handed<'_>) -> Marked<Told> {
    let found = text::find(answer.ask, &recall.points, text);
    let words = |span: Option<Range<usize>>| span.and_then(|span| text.get(span)).map(str::to_owned);
    let points = match answer.reading {
        None => found.into_iter().map(|found| by_words(found, words)).collect(),
        Some(reading) => {
            let joined = join(&recall.points, &found, reading, text);
            let read = found.iter().zip(&reading.points).zip(joined);
            read.map(|((found, read), joined)| by_both(found, read, joined, words)).collect()
        }
    };
    conclude(recall, points, answer.in_time)
}

fn by_words(found: Finding, words: impl Fn(Option<Range<usize>>) -> Option<String>) -> PointMark {
    let (said, contradicted) = (found.said, found.contradicted);
    PointMark { said, evidence: words(found.evidence), contradicted, unsure: false, scores: None }
}

fn by_both(
    found: &Finding,
    read: &PointReading,
    joined: Joined,
    words: impl Fn(Option<Range<usize>>) -> Option<String>,
) -> PointMark {
    let thousandths = |share: f64| (share * 1_000.0).round() as u16;
    let scores = Scores {
        said: thousandths(joined.ground.said),
        denied: thousandths(joined.ground.denied),
        read_said: read.said.0,
        read_denied: read.denied.0,
        matched: found.said,
        opposed: found.contradicted,
    };
    PointMark {
        said: joined.said,
        evidence: words(joined.evidence),
        contradicted: joined.contradicted,
        unsure: joined.unsure,
        scores: Some(scores),
    }
}

fn conclude(recall: &Recall, points: Vec<PointMark>, in_time: bool) -> Marked<Told> {
    let said = points.iter().filter(|p| p.said).count();
    let unsafe_miss = recall.unsafe_miss(&points);
    let outcome = match unsafe_miss {
        Some(_) => Outcome::Missed,
        None => Outcome::from_share(said as f64, points.len() as f64, in_time),
    };
    let reason = reason(&points, said, unsafe_miss);
    Marked { outcome, reason, told: Told { points } }
}

fn reason(points: &[PointMark], said: usize, unsafe_miss: Option<usize>) -> String {
    let count = match (said, points.len()) {
        (1, 1) => "the one point was said".to_owned(),
        (0, 1) => "the one point was not said".to_owned(),
        (n, all) if n == all => format!("all {} points were said", in_words(all)),
        (1, all) => format!("one of {} points was said", in_words(all)),
        (n, all) => format!("{} of {} points were said", in_words(n), in_words(all)),
    };
    let denied: Vec<String> =
        (0..points.len()).filter(|p| points[*p].contradicted).map(|p| (p + 1).to_string()).collect();
    let mut text = sentence(&count);
    match unsafe_miss {
        Some(at) if points[at].contradicted => {
            text += &format!("; the safety-critical point {} was contradicted", at + 1)
        }
        Some(at) if points[at].unsure => text += &format!("; the safety-critical point {} is not sure", at + 1),
        Some(at) => text += &format!("; the safety-critical point {} was not said", at + 1),
        None if denied.len() == 1 => text += &format!("; the answer contradicts point {}", denied[0]),
        None if !denied.is_empty() => text += &format!("; the answer contradicts points {}", denied.join(", ")),
        None => {}
    }
    text + "."
}
