//! What the network is given: question, answer and points in one row of tokens. `training/model.py` makes the same rows.

use std::ops::Range;

use super::error::ReaderError;
use super::tokens::{Token, Tokens};
use crate::domain::key_point::KeyPoint;

/// At most so many tokens of the question, of the answer and of one point are read, and so many in all.
const ASK_TOKENS: usize = 64;
const ANSWER_TOKENS: usize = 280;
const POINT_TOKENS: usize = 56;
const ALL_TOKENS: usize = 512;
/// So many accepted and rejected phrases are shown beside a point.
const ACCEPTED: usize = 2;
const REJECTED: usize = 1;

/// A longer answer is read in stretches that share so many tokens, at most so many of them.
const SHARED_TOKENS: usize = 60;
const STRETCHES: usize = 6;

/// One row of tokens.
pub(super) struct Sequence {
    /// Numbers of the tokens.
    pub(super) ids: Vec<i32>,
    /// The answer's tokens in the row.
    pub(super) answer: Range<usize>,
    /// Each point's tokens in the row.
    pub(super) points: Vec<Range<usize>>,
    /// The word that each of the answer's tokens is of, in bytes of the whole answer.
    pub(super) words: Vec<Range<usize>>,
}

/// The rows in which a card's points are read: for each stretch of the answer one row, or several where the points have
/// no room in one. The rows of a stretch hold all points in their order.
///
/// # Errors
/// Where the library that cuts words into tokens refuses one.
pub(super) fn stretches(
    tokens: &Tokens,
    ask: &str,
    points: &[KeyPoint],
    answer: &str,
) -> Result<Vec<Vec<Sequence>>, ReaderError> {
    let mut ask = tokens.of(ask)?;
    ask.truncate(ASK_TOKENS);
    let mut shown = Vec::with_capacity(points.len());
    for point in points {
        let mut point = tokens.of(&shown_as(point))?;
        point.truncate(POINT_TOKENS);
        shown.push(point);
    }
    let answer = tokens.of(answer)?;
    let mut read = Vec::new();
    let mut start = 0;
    while read.len() < STRETCHES {
        let end = (start + ANSWER_TOKENS).min(answer.len());
        read.push(rows(tokens, &ask, &shown, &answer[start..end]));
        if end == answer.len() {
            break;
        }
        start = end - SHARED_TOKENS;
    }
    Ok(read)
}

fn rows(tokens: &Tokens, ask: &[Token], points: &[Vec<Token>], answer: &[Token]) -> Vec<Sequence> {
    let mut rows: Vec<Sequence> = Vec::new();
    for point in points {
        let room = rows.last().is_some_and(|row| row.ids.len() + point.len() < ALL_TOKENS);
        if !room {
            rows.push(begin(tokens, ask, answer));
        }
        if let Some(row) = rows.last_mut() {
            row.add(tokens, point);
        }
    }
    rows
}

/// A point as the reader is shown it: its sentence, accepted phrases, and behind `not:` a rejected one.
fn shown_as(point: &KeyPoint) -> String {
    let mut shown = point.say.clone();
    for phrase in point.accept.iter().take(ACCEPTED) {
        shown += "; ";
        shown += phrase;
    }
    for (at, phrase) in point.reject.iter().take(REJECTED).enumerate() {
        shown += if at == 0 { " | not: " } else { "; " };
        shown += phrase;
    }
    shown
}

fn begin(tokens: &Tokens, ask: &[Token], answer: &[Token]) -> Sequence {
    let mut ids = vec![tokens.first];
    ids.extend(ask.iter().map(|token| token.id));
    ids.push(tokens.end);
    let start = ids.len();
    ids.extend(answer.iter().map(|token| token.id));
    let answered = start..ids.len();
    ids.push(tokens.end);
    Sequence { ids, answer: answered, points: Vec::new(), words: answer.iter().map(|t| t.word.clone()).collect() }
}

impl Sequence {
    fn add(&mut self, tokens: &Tokens, point: &[Token]) {
        let start = self.ids.len();
        self.ids.extend(point.iter().map(|token| token.id));
        self.points.push(start..self.ids.len());
        self.ids.push(tokens.end);
    }

    /// The kind of each token: 1 for the answer and what ends it, 0 for the rest.
    pub(super) fn kinds(&self) -> Vec<i32> {
        let answered = self.answer.start..self.answer.end + 1;
        (0..self.ids.len()).map(|at| i32::from(answered.contains(&at))).collect()
    }

    /// The stretch of the answer that a point looked at: the clause with the most of its look.
    pub(super) fn looked_at(&self, look: &[f32]) -> Option<Range<usize>> {
        let look = look.get(self.answer.clone())?;
        let (best, _) = look.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1))?;
        let floor = look[best] * SHARE_OF_BEST;
        let mut stretch = best..best + 1;
        while stretch.start > 0 && near(look, stretch.start - 1, floor, true) {
            stretch.start -= 1;
        }
        while stretch.end < look.len() && near(look, stretch.end, floor, false) {
            stretch.end += 1;
        }
        Some(self.words.get(stretch.start)?.start..self.words.get(stretch.end - 1)?.end)
    }
}

/// A token belongs to the stretch where it, or one of the next three on that side, has this share of the best look.
const SHARE_OF_BEST: f32 = 0.12;
const REACH: usize = 3;

fn near(look: &[f32], at: usize, floor: f32, backwards: bool) -> bool {
    let reach = if backwards { at.saturating_sub(REACH)..at + 1 } else { at..(at + REACH + 1).min(look.len()) };
    look.get(reach).is_some_and(|look| look.iter().any(|share| *share >= floor))
}
