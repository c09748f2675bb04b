//! Taking a deck in, as data to draw: which file, whose deck it is, what it brings, and the question.

use crate::present::labelled::Labelled;

/// The page on which a deck is taken in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TakeInView {
    /// A file is to be named, or dropped.
    Empty,
    /// Something is done with a file.
    Busy {
        /// `Reading air-2.bedplate …`
        sentence: String,
    },
    /// A file is not taken in.
    Refused(RefusedView),
    /// A deck may be taken in, if the person says so.
    Offered(Box<OfferView>),
}

/// Why a file is not taken in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RefusedView {
    /// Title of the deck, or the file's name.
    pub headline: String,
    /// What is the matter, and what to do, in plain sentences.
    pub sentence: String,
    /// The rule and the place in the file, for whoever made it; empty where there is no more to say.
    pub detail: String,
}

/// A deck that may be taken in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OfferView {
    /// Title of the deck.
    pub title: String,
    /// Publisher, edition, when it was made, signature.
    pub facts: Vec<Labelled>,
    /// The public key that it is signed by.
    pub key: Option<String>,
    /// What it brings, a sentence for each sort of thing.
    pub news: Vec<String>,
    /// What is asked before it is taken in, in whole sentences; the last is the question.
    pub questions: Vec<String>,
}
