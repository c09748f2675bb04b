//! A deck while it is being read: what `reading` fills in file by file, and the checks over the whole deck look at.

use std::collections::BTreeMap;
use std::time::Duration;

use super::head::{Head, SourceDraft};
use super::kinds::Draft;
use super::problem::Collector;
use super::source_text::SourceText;

/// The deck as far as it has been read: all that its files say, sound or not, with the problems found so far.
#[derive(Default)]
pub(crate) struct DeckDraft {
    /// In the order of the files' names.
    pub(crate) texts: Vec<SourceText>,
    pub(crate) problems: Collector,
    /// The cards, in the order of files and lines.
    pub(crate) drafts: Vec<Draft>,
    /// How many cards of each kind are written, by the kind's word.
    pub(crate) counts: BTreeMap<String, usize>,
    /// The keys at the top of `deck.toml`; none where it could not be read.
    pub(crate) head: Option<Head>,
    /// By the key that cards cite.
    pub(crate) sources: BTreeMap<String, SourceDraft>,
    /// Some of `deck.toml` could not be understood, so that sources may be lacking.
    pub(crate) head_is_damaged: bool,
    /// Some card or file could not be understood, so that nothing can be said of what is not used.
    pub(crate) cards_are_damaged: bool,
    /// Files that could not be understood as a whole, by their positions in `texts`.
    pub(crate) broken: Vec<usize>,
    /// All drawings may take so long together, and what is not read by then is put off; without it they have the time
    /// that a check has.
    pub(crate) time_for_drawings: Option<Duration>,
    /// Cards that point at drawings for whose reading there was no time.
    pub(crate) put_off: usize,
    /// Bytes that the files still to be read may have together.
    pub(crate) bytes_left: u64,
    /// That there are too many cards has been reported.
    pub(crate) too_many_told: bool,
}
