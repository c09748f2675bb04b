//! A deck as plain data.

use std::collections::BTreeMap;

use crate::domain::card::Card;
use crate::domain::ids::DeckId;

/// A topic's set of cards with what they cite.
#[derive(Debug, Clone, PartialEq)]
pub struct Deck {
    /// Unique in a library.
    pub id: DeckId,
    /// For people.
    pub title: String,
    /// Publication number, from 1.
    pub edition: u32,
    /// BCP 47 tag such as `en`.
    pub language: String,
    /// Who publishes it.
    pub publisher: String,
    /// An SPDX expression such as `CC-BY-4.0`.
    pub licence: String,
    /// What it is about.
    pub about: Option<String>,
    /// Shown with the deck.
    pub caution: Option<String>,
    /// What cards cite, by key.
    pub sources: BTreeMap<String, Source>,
    /// In the order of the files (by name) and of the cards in each.
    pub cards: Vec<Card>,
}

/// Something that cards cite.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// Title with regulation or clause.
    pub title: String,
    /// What sort of source.
    pub kind: SourceKind,
}

/// What sort of source it is; common practice is said as plainly as a regulation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SourceKind {
    /// An international convention or code.
    Convention,
    /// A published standard.
    Standard,
    /// A rule of a classification society or a unified requirement.
    ClassRule,
    /// A textbook formula or text.
    Textbook,
    /// Common practice, no published source.
    Practice,
}

impl SourceKind {
    /// The word in deck files.
    pub fn word(self) -> &'static str {
        match self {
            SourceKind::Convention => "convention",
            SourceKind::Standard => "standard",
            SourceKind::ClassRule => "class-rule",
            SourceKind::Textbook => "textbook",
            SourceKind::Practice => "practice",
        }
    }
}

impl Deck {
    /// The titles of a card's sources, in the card's order; a key that the deck lacks is left out.
    pub fn source_titles(&self, card: &Card) -> Vec<&str> {
        card.sources.iter().filter_map(|key| self.sources.get(key)).map(|s| s.title.as_str()).collect()
    }
}
