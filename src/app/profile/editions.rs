//! Editions of decks with a learner: taking them in, who goes on with whose history, and which cards are changed.

use std::collections::{BTreeMap, HashMap, HashSet};

use crate::app::profile::shelf::{Shelf, Shelved};
use crate::deck::{Reading, Severity};
use crate::domain::attempt::Attempt;
use crate::domain::day::Instant;
use crate::domain::editions::{ChangedIn, Difference, Edition, Ledger, Lineage, Update};
use crate::domain::ids::{AttemptId, CardKey, DeckId};
use crate::domain::memory::CardMemory;
use crate::domain::memory::model::Model;
use crate::store::{Store, StoreError};

/// What a learner has taken in, and what follows from it.
#[derive(Debug, Clone, Default)]
pub struct Editions {
    /// The editions taken in.
    pub ledger: Ledger,
    /// Which card goes on with which history.
    pub lineage: Lineage,
    changed: HashMap<CardKey, ChangedCard>,
    /// Changed cards that were answered since the profile was opened, by the answer: it may be taken back.
    answered: HashMap<AttemptId, (CardKey, ChangedCard)>,
}

/// A card that asks something else than its learner answered last.
#[derive(Debug, Clone, PartialEq)]
pub struct ChangedCard {
    /// The first edition in which it asks what it asks now.
    pub edition: u32,
    /// What is another; empty where what it asked before is no longer at hand.
    pub differences: Vec<Difference>,
}

/// By card, whether it asked in an edition what it asks now; cards that never asked anything else are left out.
#[derive(Debug, Clone, Default)]
pub struct Outdated(HashMap<CardKey, BTreeMap<u32, bool>>);

impl Outdated {
    /// Whether an attempt was at something else than its card asks now, as far as is known.
    pub fn holds(&self, attempt: &Attempt) -> bool {
        let nearest = self.0.get(&attempt.card).and_then(|of| of.range(..=attempt.evidence.edition).next_back());
        nearest.is_some_and(|(_, as_now)| !as_now)
    }
}

/// An edition that has come in after another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct News {
    /// The deck.
    pub deck: DeckId,
    /// The edition's place among those of the deck that were taken in.
    pub place: usize,
}

/// What came of taking in.
#[derive(Debug, Default)]
pub struct TakenIn {
    /// Histories go on under other keys than before: memory has to be worked out anew.
    pub regrouped: bool,
    /// It could not be kept, and is taken in again at the next start.
    pub not_kept: Option<StoreError>,
}

/// Whether all of a deck's cards could be read: what is not in it is not there.
fn is_whole(reading: &Reading) -> bool {
    reading.readable
        && reading.put_off == 0
        && reading.problems.iter().all(|problem| problem.severity != Severity::Error)
}

impl Editions {
    /// Where so much has been taken in, before the decks at hand are looked at.
    pub fn of(ledger: Ledger) -> Self {
        Self { ledger, ..Self::default() }
    }

    /// Takes in what the shelf has that was not taken in. A deck with errors waits until it has none: what cannot be read
    /// is not withdrawn.
    ///
    /// # Errors
    /// Where the store has gone.
    pub fn take_in(&mut self, store: &Store, shelf: &Shelf, now: Instant) -> Result<TakenIn, StoreError> {
        let mut come = TakenIn::default();
        let mut taken = Vec::new();
        for shelved in shelf.decks.iter().filter(|shelved| is_whole(&shelved.reading)) {
            let Some(deck) = shelved.deck().filter(|deck| self.ledger.lacks(deck)) else { continue };
            taken.push(self.ledger.take_in(&Edition::of(deck), now));
        }
        if !taken.is_empty() && !store.reads_only() {
            come.not_kept = store.keep_editions(taken).wait().err();
        }
        let standing = shelf.cards().map(|(_, card)| (&card.key, card.was.as_slice()));
        let lineage = Lineage::of(standing, &self.ledger);
        if lineage != self.lineage {
            store.go_by(lineage.clone()).wait()?;
            self.lineage = lineage;
            come.regrouped = true;
        }
        Ok(come)
    }

    /// The last edition of each deck at hand that came after another and whose sheet has not been looked at, where it
    /// brought something.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn unseen(&self, store: &Store, shelf: &Shelf) -> Result<Vec<News>, StoreError> {
        let last = shelf.usable().filter_map(|deck| {
            let takings = self.ledger.takings(&deck.id);
            let place = takings.len().checked_sub(1).filter(|place| *place > 0)?;
            Some((News { deck: deck.id.clone(), place }, takings[place].at))
        });
        let mut last: Vec<(News, Instant)> = last.collect();
        if !last.is_empty() {
            let seen: HashSet<(DeckId, Instant)> = store.editions_seen().wait()?.into_iter().collect();
            last.retain(|(news, at)| !seen.contains(&(news.deck.clone(), *at)));
        }
        let brought = |news: &News| {
            let update = self.ledger.update(&news.deck, news.place, &BTreeMap::new());
            update.is_some_and(|update| !update.is_empty())
        };
        Ok(last.into_iter().map(|(news, _)| news).filter(brought).collect())
    }

    /// Names the model and whose history goes on where: memory worked out under another stamp has to be worked out again.
    pub fn stamp(&self, model: &Model) -> String {
        model.stamp() + &self.lineage.stamp()
    }

    /// Finds the cards that ask something else than was answered last.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn find_changed(
        &mut self,
        store: &Store,
        shelf: &Shelf,
        memory: &HashMap<CardKey, CardMemory>,
    ) -> Result<(), StoreError> {
        self.changed.clear();
        let met = shelf.cards().map(|(_, card)| &card.key).filter(|key| memory.contains_key(key));
        let suspects: Vec<CardKey> =
            met.filter(|key| self.ledger.differ(&self.lineage.keys_of(key))).cloned().collect();
        if suspects.is_empty() {
            return Ok(());
        }
        let last = store.last_attempts(suspects).wait()?;
        let changed: Vec<(CardKey, ChangedIn)> = last
            .into_iter()
            .filter_map(|(key, attempt)| {
                let changed = self.ledger.changed(&key, &attempt.card, attempt.evidence.edition)?;
                Some((key, changed))
            })
            .collect();
        let asked = store.asked(changed.iter().map(|(_, changed)| changed.was.clone()).collect()).wait()?;
        for (key, ChangedIn { edition, was }) in changed {
            let Some((_, card)) = shelf.card(&key) else { continue };
            let differences = asked.get(&was).map(|was| was.differences(&card.asked()));
            // Where a deck's writer has put it back as it was, under the same number, there is nothing to tell.
            if differences.as_ref().is_none_or(|differences| !differences.is_empty()) {
                self.changed.insert(key, ChangedCard { edition, differences: differences.unwrap_or_default() });
            }
        }
        Ok(())
    }

    /// What is changed of a card; none where it asks what was answered last, or was never answered.
    pub fn changed(&self, card: &CardKey) -> Option<&ChangedCard> {
        self.changed.get(card)
    }

    /// How many cards are changed.
    pub fn count(&self) -> usize {
        self.changed.len()
    }

    /// An attempt has been kept: its card is answered as it is now.
    pub(super) fn answered(&mut self, attempt: &Attempt) {
        if let Some(changed) = self.changed.remove(&attempt.card) {
            self.answered.insert(attempt.id.clone(), (attempt.card.clone(), changed));
        }
    }

    /// An attempt has been taken back.
    pub(super) fn taken_back(&mut self, attempt: &Attempt) {
        if let Some((card, changed)) = self.answered.remove(&attempt.id) {
            self.changed.insert(card, changed);
        }
    }

    /// Cards that have ever asked something else than now, with the editions in which they did.
    pub fn outdated(&self, shelf: &Shelf) -> Outdated {
        let cards = shelf.cards().map(|(_, card)| (&card.key, self.lineage.keys_of(&card.key)));
        let differing = cards.filter(|(_, keys)| self.ledger.differ(keys));
        Outdated(differing.map(|(key, keys)| (key.clone(), self.ledger.as_now(key, &keys))).collect())
    }

    /// Cards of a deck that were taken in once and are in it no more; none where that cannot be said.
    pub fn withdrawn(&self, shelf: &Shelf, shelved: &Shelved) -> Vec<&CardKey> {
        let Some(deck) = shelved.deck().filter(|_| is_whole(&shelved.reading)) else { return Vec::new() };
        let gone = self.ledger.ever(&deck.id).filter(|key| shelf.card(key).is_none());
        gone.filter(|key| !self.lineage.has_heir(key)).collect()
    }

    /// What an edition brought, with the texts of what it changed.
    ///
    /// # Errors
    /// Where the store cannot be read.
    pub fn update(&self, store: &Store, news: &News) -> Result<Option<Update>, StoreError> {
        let asked = store.asked(self.ledger.needed(&news.deck, news.place)).wait()?;
        Ok(self.ledger.update(&news.deck, news.place, &asked))
    }
}
