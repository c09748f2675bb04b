//! Which card goes on with which history. Attempts stay filed under the key that they were given under; a card that was
//! renamed is the heir of its former keys, and whoever replays attempts reads them under the heir's.
//!
//! A key that stands in a deck has no heir. Of several cards that claim one past, one of the past's own deck comes before
//! those of others, then the first by its key; what an earlier edition claimed holds as long as no card claims it now.
//! None of this depends on the order in which decks were taken in.

use std::collections::{BTreeMap, BTreeSet};

use crate::domain::card::{about_a_run, card_of, is_about_a_run};
use crate::domain::editions::ledger::Ledger;
use crate::domain::ids::CardKey;

/// Who goes on with whose history.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Lineage {
    heirs: BTreeMap<CardKey, CardKey>,
    pasts: BTreeMap<CardKey, Vec<CardKey>>,
}

impl Lineage {
    /// From the cards that stand in decks, each with what its deck says it was, and from what editions before said.
    pub fn of<'a>(standing: impl IntoIterator<Item = (&'a CardKey, &'a [CardKey])>, ledger: &Ledger) -> Self {
        let standing: BTreeMap<&CardKey, &[CardKey]> = standing.into_iter().collect();
        let mut heirs: BTreeMap<CardKey, CardKey> = BTreeMap::new();
        // Claims of one round: past, heir.
        let direct = standing.iter().flat_map(|(card, was)| was.iter().map(move |past| (past, *card)));
        let mut claims: Vec<(CardKey, CardKey)> = direct.map(|(past, card)| (past.clone(), card.clone())).collect();
        let mut met: BTreeSet<CardKey> = BTreeSet::new();
        let mut open: Vec<(CardKey, CardKey)> =
            standing.keys().map(|card| ((*card).clone(), (*card).clone())).collect();
        while !claims.is_empty() || !open.is_empty() {
            claims.sort_by(|a, b| (a.0.deck != a.1.deck, &a.1, &a.0).cmp(&(b.0.deck != b.1.deck, &b.1, &b.0)));
            for (past, heir) in claims.drain(..) {
                if !standing.contains_key(&past) && !heirs.contains_key(&past) {
                    heirs.insert(past.clone(), heir.clone());
                    open.push((past, heir));
                }
            }
            // What these once took over goes on with their heir.
            for (card, heir) in open.drain(..) {
                if met.insert(card.clone()) {
                    claims.extend(ledger.pasts(&card).map(|past| (past.clone(), heir.clone())));
                }
            }
        }
        let mut pasts: BTreeMap<CardKey, Vec<CardKey>> = BTreeMap::new();
        heirs.iter().for_each(|(past, heir)| pasts.entry(heir.clone()).or_default().push(past.clone()));
        Self { heirs, pasts }
    }

    /// The key under which what was answered under a key counts now.
    pub fn heir(&self, key: CardKey) -> CardKey {
        if self.heirs.is_empty() {
            return key;
        }
        if is_about_a_run(&key) {
            return about_a_run(&self.heir(card_of(key)));
        }
        self.heirs.get(&key).cloned().unwrap_or(key)
    }

    /// Whether a key's history goes on under another.
    pub fn has_heir(&self, key: &CardKey) -> bool {
        self.heirs.contains_key(key)
    }

    /// All keys whose attempts count for a card: its own, then its former ones.
    pub fn keys_of(&self, card: &CardKey) -> Vec<CardKey> {
        if is_about_a_run(card) {
            return self.keys_of(&card_of(card.clone())).iter().map(about_a_run).collect();
        }
        let pasts = self.pasts.get(card).into_iter().flatten();
        std::iter::once(card).chain(pasts).cloned().collect()
    }

    /// Changes when memory has to be worked out anew; empty where no card was renamed.
    pub fn stamp(&self) -> String {
        let pairs: Vec<String> = self.heirs.iter().map(|(past, heir)| format!(" {past}>{heir}")).collect();
        pairs.concat()
    }
}
