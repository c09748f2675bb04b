//! The kinds of card as deck files write them: one file for each kind, with a `KIND` that reads it; all that cards share
//! is read by `common`.

mod common;
mod form;
mod in_row;
mod kind;
mod phrases;
mod points;
mod samples;

pub(crate) use common::{Draft, FIELDS, Placed, read};
pub(crate) use form::ReadForm;
pub(crate) use in_row::{InRow, PointColumns, RowCells, RowPoint, Wanted};
pub(crate) use kind::DeckKind;
pub(crate) use samples::{MOST_SAMPLES, ONE_THAT_WORKS, outcome_words, sample_keys, slip_words};

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

/// The words of the kinds that stand in a row of a sheet, in the order of the manual, each with how.
pub(crate) fn in_row() -> Vec<(&'static str, &'static InRow)> {
    words().into_iter().filter_map(of_word).filter_map(|kind| Some((kind.word, kind.in_row.as_ref().ok()?))).collect()
}

/// The forms in which cards of any kind are answered, in the order in which messages name them.
pub(crate) fn forms() -> Vec<&'static ReadForm> {
    let mut forms: Vec<&ReadForm> = KINDS.iter().flat_map(|kind| kind.forms).collect();
    forms.sort_by_key(|read| read.form);
    forms
}
