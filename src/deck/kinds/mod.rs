//! The kinds of card as deck files write them: one file for each kind. To add a kind, write its file with a
//! `KIND` that reads it, and name it in [`KINDS`]; all that cards share is read by `common`.

mod common;
mod figure;
mod kind;
mod lineup;
mod phrases;
mod point;
mod points;
mod recall;
mod samples;
mod sequence;
mod why;
mod working;

pub(crate) use common::{Draft, Placed, read};
pub(crate) use kind::DeckKind;

use crate::domain::card::Kind;

/// Every kind of card; one that is missing here does not compile.
pub(crate) const KINDS: [&DeckKind; Kind::COUNT] =
    [&recall::KIND, &figure::KIND, &why::KIND, &sequence::KIND, &working::KIND, &lineup::KIND, &point::KIND];

/// The kind of this word.
pub(crate) fn of_word(word: &str) -> Option<&'static DeckKind> {
    KINDS.into_iter().find(|kind| kind.word == word)
}
