//! The kinds of card as deck files write them: one file for each kind, with a `KIND` that reads it; all that cards share
//! is read by `common`.

mod common;
mod form;
mod kind;
mod phrases;
mod points;
mod samples;

pub(crate) use common::{Draft, Placed, read};
pub(crate) use form::ReadForm;
pub(crate) use kind::DeckKind;

use crate::domain::kinds::{Kind, each_kind};

/// Declares the kinds' files, and lists what they read.
macro_rules! kinds {
    ($($(#[$doc:meta])* $name:ident($held:ty): $file:ident;)+) => {
        $(mod $file;)+

        /// Every kind of card.
        const KINDS: [&DeckKind; Kind::COUNT] = [$(&$file::KIND),+];
    };
}

each_kind!(kinds);

/// The kind of this word.
pub(crate) fn of_word(word: &str) -> Option<&'static DeckKind> {
    KINDS.into_iter().find(|kind| kind.word == word)
}

/// How cards of a kind are written.
pub(crate) fn of_kind(kind: Kind) -> &'static DeckKind {
    KINDS[kind.place()]
}

/// The kind that a word of deck files stands for.
pub(crate) fn kind_of(word: &str) -> Option<Kind> {
    KINDS.iter().position(|kind| kind.word == word).map(|at| Kind::ALL[at])
}

/// The kinds' words, in the order of the manual.
pub(crate) fn words() -> Vec<&'static str> {
    let mut kinds = KINDS;
    kinds.sort_by_key(|kind| kind.chapter);
    kinds.map(|kind| kind.word).to_vec()
}

/// The forms in which cards of any kind are answered, in the order in which messages name them.
pub(crate) fn forms() -> Vec<&'static ReadForm> {
    let mut forms: Vec<&ReadForm> = KINDS.iter().flat_map(|kind| kind.forms).collect();
    forms.sort_by_key(|read| read.form);
    forms
}
