//! The kinds of card as deck files write them: one file for each kind. To add a kind, write its file with a
//! `KIND` that reads it, and name it in [`KINDS`]; all that cards share is read by `common`.

mod common;
mod figure;
mod lineup;
mod phrases;
mod point;
mod points;
mod recall;
mod sequence;
mod why;
mod working;

pub(crate) use common::{Draft, Placed, read};

use super::fields::{Context, Table};
use crate::domain::card::Body;

/// A kind of card.
pub(crate) struct CardKind {
    /// Its word in deck files: `[[word]]`.
    pub(crate) word: &'static str,
    /// One card of it in words, such as `a recall card`.
    pub(crate) one: &'static str,
    /// The keys that only this kind has.
    pub(crate) keys: &'static [&'static str],
    /// Reads what only this kind has; `None` where it is not sound.
    pub(crate) read: fn(&mut Context<'_>, Table<'_, '_>) -> Option<Body>,
}

/// Every kind of card.
pub(crate) const KINDS: [&CardKind; 7] =
    [&recall::KIND, &figure::KIND, &why::KIND, &sequence::KIND, &working::KIND, &lineup::KIND, &point::KIND];

/// The kind of this word.
pub(crate) fn of_word(word: &str) -> Option<&'static CardKind> {
    KINDS.into_iter().find(|kind| kind.word == word)
}
