//! Marks a recall: key points ticked as said, or found in a typed answer.

use super::text::{self, Finding};
use super::{AnswerError, Detail, Marked, PointMark, check_positions, in_words, sentence};
use crate::domain::card::Recall;
use crate::domain::outcome::Outcome;

/// Marks points ticked by number, from 1.
pub(super) fn mark_said(recall: &Recall, said: &[usize], in_time: bool) -> Result<Marked, AnswerError> {
    check_positions(said, recall.points.len(), "point")?;
    let mark = |at: usize| PointMark { said: said.contains(&(at + 1)), evidence: None, contradicted: false };
    Ok(conclude(recall, (0..recall.points.len()).map(mark).collect(), in_time))
}

/// Marks a typed answer to the question `ask`.
pub(super) fn mark_text(ask: &str, recall: &Recall, answer: &str, in_time: bool) -> Marked {
    let mark = |found: Finding| PointMark {
        said: found.said,
        evidence: found.evidence.and_then(|span| answer.get(span)).map(str::to_owned),
        contradicted: found.contradicted,
    };
    let points = text::find(ask, &recall.points, answer).into_iter().map(mark).collect();
    conclude(recall, points, in_time)
}

fn conclude(recall: &Recall, points: Vec<PointMark>, in_time: bool) -> Marked {
    let said = points.iter().filter(|p| p.said).count();
    let unsafe_miss = (0..points.len()).find(|at| recall.points[*at].critical && !points[*at].said);
    let outcome = match unsafe_miss {
        Some(_) => Outcome::Missed,
        None => Outcome::from_share(said as f64, points.len() as f64, in_time),
    };
    let reason = reason(&points, said, unsafe_miss);
    (outcome, reason, Detail::Recall { points })
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
