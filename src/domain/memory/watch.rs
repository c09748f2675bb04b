//! A watch as it is stood: which card is on the sheet, and what comes back.
//!
//! A missed card returns within the watch, a few cards later, until it is answered once. A stubborn card gets its
//! remedy first and is then asked once more; if it is missed again it rests until tomorrow.

use std::collections::VecDeque;

use crate::domain::ids::CardKey;
use crate::domain::memory::model::STUBBORN;
use crate::domain::memory::order::{Order, Reason};
use crate::domain::outcome::Outcome;

/// So many other cards come before a missed one returns, where there are so many.
const RETURNS_AFTER: usize = 4;

/// What is to be done with the card on the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turn {
    /// Ask it.
    Ask,
    /// Go through its points one by one, then ask it later.
    Remedy,
}

/// One card that is still to come.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Coming {
    /// Which card.
    pub key: CardKey,
    /// Ask it or go through it.
    pub turn: Turn,
    /// Why it is in the watch.
    pub reason: Reason,
    /// Whether the card has been missed in this watch and is back.
    pub returned: bool,
}

/// What happened to one card in this watch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Done {
    /// Which card.
    pub key: CardKey,
    /// The outcomes in this watch, in order.
    pub outcomes: Vec<Outcome>,
}

/// The state of a watch.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Watch {
    coming: VecDeque<Coming>,
    done: Vec<Done>,
    remedied: Vec<CardKey>,
    of: usize,
}

impl Watch {
    /// A watch from its order; `misses_in_a_row` tells, for a card, how stubborn it is.
    pub fn begin(order: &Order, misses_in_a_row: impl Fn(&CardKey) -> u32) -> Self {
        let coming: VecDeque<Coming> = order
            .items
            .iter()
            .map(|item| Coming {
                key: item.key.clone(),
                turn: if misses_in_a_row(&item.key) >= STUBBORN { Turn::Remedy } else { Turn::Ask },
                reason: item.reason,
                returned: false,
            })
            .collect();
        Self { of: coming.len(), coming, ..Self::default() }
    }

    /// The card on the sheet.
    pub fn current(&self) -> Option<&Coming> {
        self.coming.front()
    }

    /// The cards that are still to come, in order.
    pub fn coming(&self) -> impl Iterator<Item = &CardKey> {
        self.coming.iter().map(|c| &c.key)
    }

    /// Cards (each counted once) that are through, and the number of cards in this watch.
    pub fn progress(&self) -> (usize, usize) {
        (self.of - self.left(), self.of)
    }

    /// Different cards that have been answered at least once.
    pub fn answered_cards(&self) -> usize {
        self.done.len().min(self.of)
    }

    /// Cards that were missed and are still to come again.
    pub fn returning(&self) -> usize {
        self.coming.iter().filter(|card| card.returned).count()
    }

    /// Cards that are still to come, each counted once.
    pub fn left(&self) -> usize {
        self.coming.len()
    }

    /// What has been done, in the order in which cards were first answered.
    pub fn done(&self) -> &[Done] {
        &self.done
    }

    /// The card on the sheet was answered; `misses_in_a_row` counts this attempt too.
    pub fn answered(mut self, outcome: Outcome, misses_in_a_row: u32) -> Self {
        let Some(card) = self.coming.pop_front() else { return self };
        match self.done.iter_mut().find(|d| d.key == card.key) {
            Some(done) => done.outcomes.push(outcome),
            None => self.done.push(Done { key: card.key.clone(), outcomes: vec![outcome] }),
        }
        let spent = self.remedied.contains(&card.key);
        if outcome == Outcome::Missed && !spent {
            let turn = if misses_in_a_row >= STUBBORN { Turn::Remedy } else { Turn::Ask };
            self.put_back(Coming { turn, returned: true, ..card });
        }
        self
    }

    /// The remedy on the sheet is through: the card is asked once more, later.
    pub fn remedied(mut self) -> Self {
        if let Some(card) = self.coming.pop_front() {
            self.remedied.push(card.key.clone());
            self.put_back(Coming { turn: Turn::Ask, ..card });
        }
        self
    }

    /// A card is set aside: it no longer comes.
    pub fn without(mut self, key: &CardKey) -> Self {
        let before = self.coming.len();
        self.coming.retain(|c| c.key != *key);
        self.of -= before - self.coming.len();
        self
    }

    fn put_back(&mut self, card: Coming) {
        let at = RETURNS_AFTER.min(self.coming.len());
        self.coming.insert(at, card);
    }
}
