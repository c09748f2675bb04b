//! A kind of card as deck files write it.

use super::form::ReadForm;
use super::in_row::InRow;
use crate::deck::fields::{Context, Table};
use crate::deck::shape::Field;
use crate::domain::form::Shape;
use crate::domain::kinds::Body;

/// How cards of a kind are written.
pub(crate) struct DeckKind {
    /// The kind's word in deck files: `[[word]]`.
    pub(crate) word: &'static str,
    /// One card of it in words, such as `a recall card`.
    pub(crate) one: &'static str,
    /// Where its chapter stands among those of the manual, decks/FORMAT.md.
    pub(crate) chapter: u8,
    /// What only this kind holds.
    pub(crate) fields: &'static [Field],
    /// The keys of that.
    pub(crate) keys: &'static [&'static str],
    /// What its samples may expect beside an outcome, by key.
    pub(crate) expects: &'static [&'static str],
    /// The forms in which it is answered, but those that stand with another kind.
    pub(crate) forms: &'static [ReadForm],
    /// How one stands in a row of a sheet, or else what to do instead.
    pub(crate) in_row: Result<InRow, &'static str>,
    /// What of these a form holds, each with its shape; empty where cards of the kind are written without a form.
    pub(crate) form: &'static [(&'static str, Shape)],
    /// Reads what only this kind has; `None` where it is not sound.
    pub(crate) read: fn(&mut Context<'_>, Table<'_, '_>) -> Option<Body>,
}

impl DeckKind {
    /// Whether a key is one that only this kind has.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.keys.contains(&key)
    }
}
