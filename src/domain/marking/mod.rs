//! Marking: an answer to a card becomes an outcome with its reasons. Each kind marks its own answers, in
//! `domain/kinds`; what they share is here, and typed text in `text`.

pub(in crate::domain) mod common;
mod data;
mod marked;
pub mod reader;
pub mod text;

pub use data::{AnswerError, PointMark, Slip, SlipKind};
pub use marked::Marking;

use crate::domain::answer::Answer;
use crate::domain::card::Card;
use crate::domain::kinds::Handed;

/// Marks an answer.
///
/// # Errors
/// Where the answer's form does not fit the card's kind, or names a position that the card does not have or
/// names one twice.
pub fn mark(card: &Card, answer: &Answer) -> Result<Marking, AnswerError> {
    let in_time = matches!((card.seconds, answer.seconds), (Some(limit), Some(took)) if took <= limit);
    let marked = card.body.mark(&Handed { given: &answer.given, ask: &card.ask, in_time })?;
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
