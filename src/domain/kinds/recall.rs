//! Recall: key points to say, ticked as said or found in a typed answer.

use serde::Serialize;

use super::kind::{CardKind, Facts, Handed, Marked, Marks, Weighed};
use crate::domain::answer::{Form, Given};
use crate::domain::english::{capital as sentence, in_words};
use crate::domain::key_point::KeyPoint;
use crate::domain::marking::common::{check_positions, counted};
use crate::domain::marking::text::{self, Finding};
use crate::domain::marking::{AnswerError, PointMark};
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
            Given::Text(text) => Ok(mark_text(answer.ask, self, text, answer.in_time)),
            _ => Err(FACTS.wrong_form()),
        }
    }

    fn weigh(&self, told: &Told, _: Outcome) -> Vec<Weighed> {
        let points = self.points.iter().zip(&told.points);
        points.map(|(point, mark)| Weighed::there(&point.say, mark.said, point.critical)).collect()
    }
}

/// Marks points ticked by number, from 1.
fn mark_said(recall: &Recall, said: &[usize], in_time: bool) -> Result<Marked<Told>, AnswerError> {
    check_positions(said, recall.points.len(), "point")?;
    let mark = |at: usize| PointMark { said: said.contains(&(at + 1)), evidence: None, contradicted: false };
    Ok(conclude(recall, (0..recall.points.len()).map(mark).collect(), in_time))
}

/// Marks a typed answer to the question `ask`.
fn mark_text(ask: &str, recall: &Recall, answer: &str, in_time: bool) -> Marked<Told> {
    let mark = |found: Finding| PointMark {
        said: found.said,
        evidence: found.evidence.and_then(|span| answer.get(span)).map(str::to_owned),
        contradicted: found.contradicted,
    };
    let points = text::find(ask, &recall.points, answer).into_iter().map(mark).collect();
    conclude(recall, points, in_time)
}

fn conclude(recall: &Recall, points: Vec<PointMark>, in_time: bool) -> Marked<Told> {
    let said = points.iter().filter(|p| p.said).count();
    let unsafe_miss = (0..points.len()).find(|at| recall.points[*at].critical && !points[*at].said);
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
        Some(at) => text += &format!("; the safety-critical point {} was not said", at + 1),
        None if denied.len() == 1 => text += &format!("; the answer contradicts point {}", denied[0]),
        None if !denied.is_empty() => text += &format!("; the answer contradicts points {}", denied.join(", ")),
        None => {}
    }
    text + "."
}
