//! Names of things: decks, cards, attempts. An id is lower-case letters, digits and hyphens.

use std::fmt;

use serde::{Deserialize, Serialize};

/// A deck's id, unique in a library.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct DeckId(pub String);

/// A card's key, `deck-id/card-id`: what attempts are filed under.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct CardKey {
    /// The deck.
    pub deck: DeckId,
    /// The card's id in its deck.
    pub card: String,
}

/// An attempt's id: ordered by time and unique across machines (a UUID of version 7 in text).
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct AttemptId(pub String);

/// Whether `text` may be an id of a deck or a card.
pub fn is_id(text: &str) -> bool {
    !text.is_empty()
        && text.len() <= 100
        && text.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-')
}

impl CardKey {
    /// A key from its two parts.
    pub fn new(deck: &str, card: &str) -> Self {
        Self { deck: DeckId(deck.to_owned()), card: card.to_owned() }
    }

    /// Reads `deck-id/card-id`; `None` where the text is no such pair.
    pub fn parse(text: &str) -> Option<Self> {
        let (deck, card) = text.split_once('/')?;
        (is_id(deck) && is_id(card)).then(|| Self::new(deck, card))
    }
}

impl fmt::Display for DeckId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl fmt::Display for CardKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.deck, self.card)
    }
}

impl Serialize for CardKey {
    fn serialize<S: serde::Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for CardKey {
    fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let text = String::deserialize(d)?;
        Self::parse(&text).ok_or_else(|| serde::de::Error::custom(format!("`{text}` is no card key (deck-id/card-id)")))
    }
}
