//! What a learner has taken in: which editions of each deck, in order, and what every card asked in each of them. From
//! it follows which cards ask something else than the learner last answered.
//!
//! An edition is taken in once, when it is first seen under its number; what is written into the deck under the same
//! number afterwards is its writer's work in progress, and only cards that were not there are added. For each edition
//! there are entries for the cards that are other than before alone, so that a deck costs no more room than it changes.

use std::collections::{BTreeMap, BTreeSet};

use crate::domain::day::Instant;
use crate::domain::deck::Deck;
use crate::domain::editions::asked::{Asked, Part, What};
use crate::domain::editions::compare::{Update, compare};
use crate::domain::editions::edition::{Edition, EditionCard};
use crate::domain::ids::{CardKey, DeckId};

/// An edition of a deck that was taken in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taking {
    /// The deck.
    pub deck: DeckId,
    /// The edition's number.
    pub number: u32,
    /// When; no two of a deck are of one instant.
    pub at: Instant,
}

/// A card that is other in an edition than it was before.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// The card.
    pub card: CardKey,
    /// When its edition was taken in.
    pub at: Instant,
    /// Stands for what it asks; none where it is withdrawn.
    pub digest: Option<String>,
    /// Keys whose history it takes over.
    pub was: Vec<CardKey>,
}

/// What was new in a deck, to be kept.
#[derive(Debug, Clone, PartialEq)]
pub struct TakenIn {
    /// The edition, where its number is another.
    pub taking: Option<Taking>,
    /// Cards that are other than before.
    pub entries: Vec<Entry>,
    /// What they ask, by what stands for it.
    pub asked: Vec<(String, Asked)>,
}

/// Everything taken in.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Ledger {
    takings: BTreeMap<DeckId, Vec<Taking>>,
    /// By card, with the place of its edition among the deck's, rising.
    cards: BTreeMap<CardKey, Vec<(usize, Entry)>>,
}

/// A card that asks something else than its learner answered last.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChangedIn {
    /// The first edition in which it asks what it asks now.
    pub edition: u32,
    /// Stands for what it asked when it was answered.
    pub was: String,
}

impl Ledger {
    /// From what is kept, in the order in which it came.
    pub fn of(takings: Vec<Taking>, entries: Vec<Entry>) -> Self {
        let mut ledger = Self::default();
        for taking in takings {
            ledger.takings.entry(taking.deck.clone()).or_default().push(taking);
        }
        entries.into_iter().for_each(|entry| ledger.add(entry));
        ledger
    }

    fn add(&mut self, entry: Entry) {
        let takings = self.takings.get(&entry.card.deck);
        let Some(place) = takings.and_then(|all| all.iter().position(|taking| taking.at == entry.at)) else { return };
        let of_card = self.cards.entry(entry.card.clone()).or_default();
        if !of_card.iter().any(|(at, _)| *at == place) {
            of_card.push((place, entry));
            of_card.sort_by_key(|(at, _)| *at);
        }
    }

    /// The editions of a deck that were taken in, in order.
    pub fn takings(&self, deck: &DeckId) -> &[Taking] {
        self.takings.get(deck).map_or(&[], Vec::as_slice)
    }

    /// How many editions were taken in, of all decks.
    pub fn len(&self) -> usize {
        self.takings.values().map(Vec::len).sum()
    }

    /// Whether nothing was taken in.
    pub fn is_empty(&self) -> bool {
        self.takings.is_empty()
    }

    /// Whether there is something in a deck that was not taken in.
    pub fn lacks(&self, deck: &Deck) -> bool {
        let is_known = |key: &CardKey| self.cards.get(key).is_some_and(|entries| !entries.is_empty());
        self.takings(&deck.id).last().is_none_or(|last| last.number != deck.edition)
            || deck.cards.iter().any(|card| !is_known(&card.key))
    }

    /// Takes an edition in at an instant, and says what of it is to be kept.
    pub fn take_in(&mut self, edition: &Edition, now: Instant) -> TakenIn {
        let deck = &edition.deck;
        let takings = self.takings.entry(deck.clone()).or_default();
        let last = takings.last().cloned();
        let is_same = last.as_ref().is_some_and(|last| last.number == edition.number);
        let taking = match last {
            Some(last) if is_same => last,
            // Clocks are put back.
            last => Taking {
                deck: deck.clone(),
                number: edition.number,
                at: last.map_or(now, |last| Instant(now.0.max(last.at.0 + 1))),
            },
        };
        if !is_same {
            takings.push(taking.clone());
        }
        let mut taken = TakenIn { taking: (!is_same).then(|| taking.clone()), entries: Vec::new(), asked: Vec::new() };
        for card in &edition.cards {
            let key = CardKey { deck: deck.clone(), card: card.id.clone() };
            let before = self.cards.get(&key).and_then(|entries| entries.last()).map(|(_, entry)| entry);
            if is_same && before.is_some() {
                continue;
            }
            let digest = card.asked.digest();
            if before.is_some_and(|b| b.digest.as_ref() == Some(&digest) && b.was == card.was) {
                continue;
            }
            taken.asked.push((digest.clone(), card.asked.clone()));
            taken.entries.push(Entry { card: key, at: taking.at, digest: Some(digest), was: card.was.clone() });
        }
        if !is_same {
            let there: BTreeSet<&str> = edition.cards.iter().map(|card| card.id.as_str()).collect();
            let standing =
                self.cards_of(deck).filter(|(_, entries)| entries.last().is_some_and(|(_, e)| e.digest.is_some()));
            let gone = standing.filter(|(key, _)| !there.contains(key.card.as_str()));
            let entry = |key: &CardKey| Entry { card: key.clone(), at: taking.at, digest: None, was: Vec::new() };
            taken.entries.extend(gone.map(|(key, _)| entry(key)));
        }
        taken.entries.iter().cloned().for_each(|entry| self.add(entry));
        taken
    }

    fn cards_of(&self, deck: &DeckId) -> impl Iterator<Item = (&CardKey, &Vec<(usize, Entry)>)> {
        let from = CardKey { deck: deck.clone(), card: String::new() };
        self.cards.range(from..).take_while(move |(key, _)| key.deck == *deck)
    }

    /// Ids of all cards of a deck that were ever taken in.
    pub fn ever(&self, deck: &DeckId) -> impl Iterator<Item = &CardKey> {
        self.cards_of(deck).map(|(key, _)| key)
    }

    /// Keys whose history a card has ever taken over, by any edition.
    pub fn pasts(&self, card: &CardKey) -> impl Iterator<Item = &CardKey> {
        self.cards.get(card).into_iter().flatten().flat_map(|(_, entry)| &entry.was)
    }

    /// Whether any of these has ever asked different things, so that it may be changed for a learner.
    pub fn differ<'a>(&self, cards: impl IntoIterator<Item = &'a CardKey>) -> bool {
        let entries = cards.into_iter().filter_map(|key| self.cards.get(key)).flatten();
        let digests: BTreeSet<&str> = entries.filter_map(|(_, entry)| entry.digest.as_deref()).collect();
        digests.len() > 1
    }

    /// What stood for what a card asked once this edition (by place) was taken in; its last one where it was withdrawn.
    fn digest_at(&self, card: &CardKey, place: usize) -> Option<&str> {
        let up_to = self.cards.get(card)?.iter().rev().filter(|(at, _)| *at <= place);
        up_to.filter_map(|(_, entry)| entry.digest.as_deref()).next()
    }

    /// What stood for what a card asked in an edition: in that of the number or, where that was not taken in here, the
    /// one before it.
    fn digest_in(&self, card: &CardKey, edition: u32) -> Option<&str> {
        let takings = self.takings(&card.deck);
        let nearest = takings.iter().map(|taking| taking.number).filter(|number| *number <= edition).max()?;
        let place = takings.iter().rposition(|taking| taking.number == nearest)?;
        // Where it was withdrawn it was not answered.
        let (_, entry) = self.cards.get(card)?.iter().rev().find(|(at, _)| *at <= place)?;
        entry.digest.as_deref()
    }

    /// What stands for what a card asked when it was last taken in.
    pub fn last_digest(&self, card: &CardKey) -> Option<&str> {
        self.digest_at(card, usize::MAX)
    }

    /// For a card, by the numbers of the editions that were taken in: whether it asked there what it asks now. `keys` are
    /// its own key and those that it was called by.
    pub fn as_now(&self, card: &CardKey, keys: &[CardKey]) -> BTreeMap<u32, bool> {
        let mut known = BTreeMap::new();
        for key in keys {
            for taking in self.takings(&key.deck) {
                if self.digest_in(key, taking.number).is_some() {
                    let is_same = self.changed(card, key, taking.number).is_none();
                    *known.entry(taking.number).or_insert(true) &= is_same;
                }
            }
        }
        known
    }

    /// Whether a card asks something else than what was answered last, in an edition under a key (its own, or one that
    /// it was called by); none where it does not, or where it is not known here what that was.
    pub fn changed(&self, card: &CardKey, answered: &CardKey, edition: u32) -> Option<ChangedIn> {
        let takings = self.takings(&card.deck);
        let now = self.digest_at(card, takings.len().checked_sub(1)?)?;
        let was = self.digest_in(answered, edition)?;
        if was == now {
            return None;
        }
        let as_now = (0..takings.len()).rev().take_while(|place| self.digest_at(card, *place) == Some(now));
        let first = as_now.last()?;
        Some(ChangedIn { edition: takings[first].number, was: was.to_owned() })
    }

    /// Cards of a deck as an edition (by place) had them: id, what stands for what it asks, pasts.
    fn outline(&self, deck: &DeckId, place: usize) -> Vec<(&CardKey, &str, &[CardKey])> {
        let standing = self.cards_of(deck).filter_map(|(key, entries)| {
            let (_, entry) = entries.iter().rev().find(|(at, _)| *at <= place)?;
            Some((key, entry.digest.as_deref()?, entry.was.as_slice()))
        });
        standing.collect()
    }

    /// What stands for what is asked in what an edition (by place) changed: to be read before [`Ledger::update`].
    pub fn needed(&self, deck: &DeckId, place: usize) -> Vec<String> {
        let Some(before) = place.checked_sub(1) else { return Vec::new() };
        let changed = self.cards_of(deck).filter(|(_, entries)| entries.iter().any(|(at, _)| *at == place));
        let keys: BTreeSet<&CardKey> =
            changed.flat_map(|(key, _)| std::iter::once(key).chain(self.pasts(key))).collect();
        let digests = keys.into_iter().flat_map(|key| [self.digest_at(key, before), self.digest_at(key, place)]);
        let digests: BTreeSet<&str> = digests.flatten().collect();
        digests.into_iter().map(str::to_owned).collect()
    }

    /// What an edition of a deck (by its place among those taken in) brought to those who had the one taken in before it;
    /// `asked` is what [`Ledger::needed`] names, as far as it is kept. None where there is no such edition.
    pub fn update(&self, deck: &DeckId, place: usize, asked: &BTreeMap<String, Asked>) -> Option<Update> {
        let taking = self.takings(deck).get(place)?;
        let edition = |place: usize| {
            let cards = self.outline(deck, place).into_iter().map(|(key, digest, was)| EditionCard {
                id: key.card.clone(),
                was: was.to_vec(),
                // What is not at hand is the same, or cannot be told: only whether it is the same is known then.
                asked: asked.get(digest).cloned().unwrap_or_else(|| unread(digest)),
            });
            let number = self.takings(deck)[place].number;
            Edition { deck: taking.deck.clone(), number, cards: cards.collect() }
        };
        let before = place.checked_sub(1).map(edition);
        Some(compare(before.as_ref(), &edition(place)))
    }
}

fn unread(digest: &str) -> Asked {
    Asked(vec![Part::any_order(What::Question, []).sealed(digest.to_owned())])
}
