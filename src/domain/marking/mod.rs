//! Marking: an answer to a card becomes an outcome with its reasons. Each kind marks its own answers, in
//! `domain/kinds`; what they share is here. Typed words are read by the matcher of words (`text`) and by the trained reader
//! (`reader`), and `join` is the rule that joins the two.

pub(in crate::domain) mod common;
mod data;
pub(in crate::domain) mod join;
mod marked;
pub mod reader;
pub mod text;

pub use data::{AnswerError, PointMark, Scores, Slip, SlipKind};
pub use join::{Ground, Joined, rule_in_words};
pub use marked::Marking;

use crate::domain::answer::{Answer, Given};
use crate::domain::card::Card;
use crate::domain::key_point::KeyPoint;
use crate::domain::kinds::Handed;
use reader::{Reader, Reading};

/// The marker of answers: the matcher of words, with the trained reader beside it where there is one.
#[derive(Clone, Copy, Default)]
pub struct Marker<'a> {
    /// The trained reader; none where it is switched off or missing.
    pub reader: Option<&'a Reader>,
}

impl<'a> Marker<'a> {
    /// With the trained reader.
    pub fn with(reader: &'a Reader) -> Self {
        Self { reader: Some(reader) }
    }

    /// What the trained reader makes of an answer; none where there is no such reader, or the answer is not typed words to
    /// key points. Where the reader breaks off, the matcher marks alone.
    pub fn read(&self, card: &Card, given: &Given) -> Option<Reading> {
        let (points, text) = to_read(card, given)?;
        self.reader?.read(&card.ask, points, text).ok()
    }

    /// Reads and marks an answer.
    ///
    /// # Errors
    /// Those of [`mark_read`].
    pub fn mark(&self, card: &Card, answer: &Answer) -> Result<Marking, AnswerError> {
        mark_read(card, answer, self.read(card, &answer.given).as_ref())
    }
}

/// What the trained reader is to read of an answer: the points that it is held against, and the typed words; none where
/// the answer is of another kind.
pub fn to_read<'a>(card: &'a Card, given: &'a Given) -> Option<(&'a [KeyPoint], &'a str)> {
    match given {
        Given::Text(text) => Some((card.body.as_kind().key_points()?, text)),
        _ => None,
    }
}

/// Marks an answer by the matcher of words alone.
///
/// # Errors
/// Those of [`mark_read`].
pub fn mark(card: &Card, answer: &Answer) -> Result<Marking, AnswerError> {
    mark_read(card, answer, None)
}

/// Marks an answer, together with what the trained reader has made of its words where it has read them.
///
/// # Errors
/// Where the answer's form does not fit the card's kind, or names a position that the card does not have or
/// names one twice.
pub fn mark_read(card: &Card, answer: &Answer, reading: Option<&Reading>) -> Result<Marking, AnswerError> {
    let in_time = matches!((card.seconds, answer.seconds), (Some(limit), Some(took)) if took <= limit);
    let marked = card.body.mark(&Handed { given: &answer.given, ask: &card.ask, in_time, reading })?;
    Ok(Marking {
        card: card.key.card.clone(),
        kind: card.kind().word(),
        outcome: marked.outcome,
        reason: marked.reason,
        detail: marked.told,
    })
}

/// The rule of a card in one line: what makes which outcome, in the words of a learner, and within how many seconds a
/// full answer is fluent.
pub fn rule(card: &Card) -> String {
    let fluent = card.seconds.map_or_else(String::new, |seconds| format!(", within {seconds} s Fluent"));
    card.body.as_kind().rule(&fluent)
}
