//! What comes with another edition of a deck.
//!
//! A card is held against the card of its own id. Where the edition before had none, it is held against the first that
//! its `was` names: it is then *renamed*, and *changed* as well if it asks something else. A card that goes on beside
//! another whose history it takes over (two made into one) keeps its own; the other stands in `renamed`. Of two cards
//! that claim one past the first in the deck has it; a past that still stands in the deck, or is the card itself, is
//! none. A card that comes from another deck is renamed from there, with that deck's id; its question is not compared,
//! because the other deck is not at hand. With no edition before all cards are new.

use std::collections::{BTreeMap, BTreeSet};

use crate::domain::editions::asked::Difference;
use crate::domain::editions::edition::{Edition, EditionCard};
use crate::domain::ids::{CardKey, DeckId};

/// What an edition brings to those who have the one before. Ids are without the deck.
#[derive(Debug, Clone, PartialEq)]
pub struct Update {
    /// The deck.
    pub deck: DeckId,
    /// The number of the edition before; none at a first taking in.
    pub was_edition: Option<u32>,
    /// The number of this one.
    pub edition: u32,
    /// Cards that were not there, in the deck's order.
    pub new: Vec<String>,
    /// Cards that ask something else, in the deck's order.
    pub changed: Vec<Changed>,
    /// Cards that are no longer there, in the order of the edition before.
    pub withdrawn: Vec<String>,
    /// Cards that go on under another id, in the deck's order.
    pub renamed: Vec<Renamed>,
    /// How many cards are neither new nor changed nor renamed.
    pub same: usize,
}

/// A card that asks something else.
#[derive(Debug, Clone, PartialEq)]
pub struct Changed {
    /// The card's id.
    pub id: String,
    /// What is another.
    pub differences: Vec<Difference>,
}

/// A card that goes on under another id.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Renamed {
    /// The id before; with the deck's where it is another deck's.
    pub from: String,
    /// The id now.
    pub to: String,
}

impl Update {
    /// Whether nothing is new, changed, withdrawn or renamed.
    pub fn is_empty(&self) -> bool {
        self.new.is_empty() && self.changed.is_empty() && self.withdrawn.is_empty() && self.renamed.is_empty()
    }
}

/// What an edition brings to those who have the one before; `old` is none at a first taking in.
pub fn compare(old: Option<&Edition>, new: &Edition) -> Update {
    let mut update = Update {
        deck: new.deck.clone(),
        was_edition: old.map(|old| old.number),
        edition: new.number,
        new: Vec::new(),
        changed: Vec::new(),
        withdrawn: Vec::new(),
        renamed: Vec::new(),
        same: 0,
    };
    let Some(old) = old else {
        update.new = new.cards.iter().map(|card| card.id.clone()).collect();
        return update;
    };
    let before: BTreeMap<&str, &EditionCard> = old.cards.iter().map(|card| (card.id.as_str(), card)).collect();
    let standing: BTreeSet<&str> = new.cards.iter().map(|card| card.id.as_str()).collect();
    let mut claimed: BTreeSet<&CardKey> = BTreeSet::new();
    for card in &new.cards {
        let own = before.get(card.id.as_str()).copied();
        // What it takes over: of this deck what was there and no longer is, of other decks whatever it names.
        let pasts = card.was.iter().filter(|past| match past.deck == new.deck {
            true => before.contains_key(past.card.as_str()) && !standing.contains(past.card.as_str()),
            false => own.is_none(),
        });
        let pasts: Vec<&CardKey> = pasts.filter(|past| claimed.insert(past)).collect();
        let from = |past: &&CardKey| if past.deck == new.deck { past.card.clone() } else { past.to_string() };
        update.renamed.extend(pasts.iter().map(|past| Renamed { from: from(past), to: card.id.clone() }));
        let here = pasts.iter().filter(|past| past.deck == new.deck);
        let held_against = own.or_else(|| here.into_iter().find_map(|past| before.get(past.card.as_str()).copied()));
        let differences = held_against.map(|before| before.asked.differences(&card.asked)).unwrap_or_default();
        if !differences.is_empty() {
            update.changed.push(Changed { id: card.id.clone(), differences });
        } else if own.is_none() && pasts.is_empty() {
            update.new.push(card.id.clone());
        } else if pasts.is_empty() {
            update.same += 1;
        }
    }
    let is_gone = |card: &&EditionCard| {
        let key = CardKey { deck: new.deck.clone(), card: card.id.clone() };
        !standing.contains(card.id.as_str()) && !claimed.contains(&key)
    };
    update.withdrawn = old.cards.iter().filter(is_gone).map(|card| card.id.clone()).collect();
    update
}
