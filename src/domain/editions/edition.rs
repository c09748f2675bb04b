//! An edition of a deck, as far as comparing goes.

use crate::domain::deck::Deck;
use crate::domain::editions::asked::Asked;
use crate::domain::ids::{CardKey, DeckId};

/// One edition of a deck: its cards with what they ask.
#[derive(Debug, Clone, PartialEq)]
pub struct Edition {
    /// The deck.
    pub deck: DeckId,
    /// The deck's number of publication.
    pub number: u32,
    /// In the deck's order, each id once.
    pub cards: Vec<EditionCard>,
}

/// A card of an edition.
#[derive(Debug, Clone, PartialEq)]
pub struct EditionCard {
    /// The card's id in its deck.
    pub id: String,
    /// Keys whose history the card takes over.
    pub was: Vec<CardKey>,
    /// What it asks.
    pub asked: Asked,
}

impl Edition {
    /// The edition that a deck is.
    pub fn of(deck: &Deck) -> Self {
        let cards = deck.cards.iter().map(|card| EditionCard {
            id: card.key.card.clone(),
            was: card.was.clone(),
            asked: card.asked(),
        });
        Self { deck: deck.id.clone(), number: deck.edition, cards: cards.collect() }
    }

    /// The card of this id.
    pub fn card(&self, id: &str) -> Option<&EditionCard> {
        self.cards.iter().find(|card| card.id == id)
    }
}
