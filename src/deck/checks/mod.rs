//! The diagnostics: a table for each subject, one entry for each code (what is wrong, why it matters, an example, how to
//! mend it), and under it the functions that word a problem for its own case. Nothing is found here; the readers and
//! judges of this room call these functions where they find a fault.
//!
//! To add one: write its entry and its function, use it where the fault is found, give it a bad deck under `tests/decks/`,
//! and add its line to the table of `decks/FORMAT.md` (a test says what to write).

use std::sync::LazyLock;

use crate::deck::check::Check;

#[macro_use]
mod table;

pub(crate) mod card;
pub(crate) mod deck;
pub(crate) mod drawing;
pub(crate) mod figure;
pub(crate) mod file;
pub(crate) mod key;
pub(crate) mod lineup;
pub(crate) mod past;
pub(crate) mod recall;
pub(crate) mod sample;
pub(crate) mod sequence;
pub(crate) mod source;
pub(crate) mod text;
pub(crate) mod why;
pub(crate) mod working;

/// Every diagnostic, in the order of the codes.
pub fn all() -> &'static [&'static Check] {
    static ALL: LazyLock<Vec<&'static Check>> = LazyLock::new(|| {
        let tables = [
            card::TABLE,
            deck::TABLE,
            drawing::TABLE,
            figure::TABLE,
            file::TABLE,
            key::TABLE,
            lineup::TABLE,
            past::TABLE,
            recall::TABLE,
            sample::TABLE,
            sequence::TABLE,
            source::TABLE,
            text::TABLE,
            why::TABLE,
            working::TABLE,
        ];
        let mut all = tables.concat();
        all.sort_unstable_by_key(|check| check.code);
        all
    });
    &ALL
}
