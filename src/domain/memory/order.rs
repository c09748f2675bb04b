//! What comes next today: which cards make up a watch, and in what order.
//!
//! Slipped cards first; then those due, lowest recall weighted by importance; then unseen cards, spread over the
//! topics, as long as the minutes last.

use std::collections::BTreeMap;

use crate::domain::day::StudyDay;
use crate::domain::ids::CardKey;
use crate::domain::kinds::Kind;
use crate::domain::memory::CardMemory;
use crate::domain::memory::model::Model;
use crate::domain::memory::pace::Pace;
use crate::domain::outcome::Outcome;

/// A card that might be asked.
#[derive(Debug, Clone)]
pub struct Candidate<'a> {
    /// Which card.
    pub key: &'a CardKey,
    /// Kind of the card.
    pub kind: Kind,
    /// Competence key of the card.
    pub topic: &'a str,
    /// 1 to 3.
    pub weight: u8,
    /// What is known of it.
    pub memory: Option<&'a CardMemory>,
    /// Whether the card belongs to the certificate aimed at.
    pub wanted: bool,
}

/// Why a card is in the watch.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reason {
    /// It asks something else than was answered last.
    Changed,
    /// Missed last time.
    Slipped,
    /// Recall has fallen to the target.
    Due,
    /// Never attempted.
    Unseen,
}

/// A card in the watch.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// Which card.
    pub key: CardKey,
    /// Why.
    pub reason: Reason,
    /// Seconds that it is likely to take.
    pub seconds: f64,
}

/// A day's watch before it is stood.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Order {
    /// In the order in which they are asked.
    pub items: Vec<Item>,
    /// Due cards that the minutes do not reach.
    pub left_over: usize,
}

impl Order {
    /// Seconds for all of it.
    pub fn seconds(&self) -> f64 {
        self.items.iter().map(|i| i.seconds).sum()
    }

    /// This order, and then another.
    pub fn then(mut self, other: Order) -> Self {
        self.items.extend(other.items);
        self.left_over += other.left_over;
        self
    }

    /// How many are here for this reason.
    pub fn count(&self, reason: Reason) -> usize {
        self.items.iter().filter(|i| i.reason == reason).count()
    }
}

/// The cards of a day's watch that ask something else than was answered last, which come before all others: those of the
/// certificate first, then by importance. At least one of them is in it.
pub fn order_changed(changed: &[Candidate<'_>], budget: f64, pace: &Pace) -> Order {
    let mut changed: Vec<&Candidate<'_>> = changed.iter().collect();
    changed.sort_by_key(|c| (!c.wanted, std::cmp::Reverse(c.weight), c.key));
    let mut order = Order::default();
    let mut spent = 0.0;
    for candidate in changed {
        let seconds = pace.seconds(candidate.kind);
        if order.items.is_empty() || spent + seconds <= budget {
            spent += seconds;
            order.items.push(Item { key: candidate.key.clone(), reason: Reason::Changed, seconds });
        } else {
            order.left_over += 1;
        }
    }
    order
}

/// Makes a day's watch within a budget of seconds. Where a card is owed, at least one is in it; unseen cards come only
/// while there is time.
pub fn order(candidates: &[Candidate<'_>], today: StudyDay, budget: f64, pace: &Pace, model: &Model) -> Order {
    let mut slipped = Vec::new();
    let mut due = Vec::new();
    let mut unseen: Vec<&Candidate<'_>> = Vec::new();
    for candidate in candidates {
        match candidate.memory {
            None => unseen.push(candidate),
            Some(m) if m.due > today => {}
            Some(m) if m.last == Outcome::Missed => slipped.push((model.recall(m, today), candidate)),
            Some(m) => due.push(((1.0 - model.recall(m, today)) * f64::from(candidate.weight), candidate)),
        }
    }
    slipped.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.1.key.cmp(b.1.key)));
    due.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.key.cmp(b.1.key)));

    let wanted = slipped
        .into_iter()
        .map(|(_, c)| (c, Reason::Slipped))
        .chain(due.into_iter().map(|(_, c)| (c, Reason::Due)))
        .chain(spread(unseen).into_iter().map(|c| (c, Reason::Unseen)));
    let mut order = Order::default();
    let mut spent = 0.0;
    for (candidate, reason) in wanted {
        let seconds = pace.seconds(candidate.kind);
        let first = order.items.is_empty() && (reason != Reason::Unseen || budget > 0.0);
        if first || spent + seconds <= budget {
            spent += seconds;
            order.items.push(Item { key: candidate.key.clone(), reason, seconds });
        } else if reason == Reason::Unseen {
            break;
        } else {
            order.left_over += 1;
        }
    }
    order
}

/// For each candidate its place among unseen cards when what weighs most comes first and topics take turns; the lowest
/// comes first.
pub fn ranks(candidates: &[Candidate<'_>]) -> Vec<u32> {
    let at: rustc_hash::FxHashMap<&CardKey, usize> = candidates.iter().enumerate().map(|(at, c)| (c.key, at)).collect();
    let mut ranks = vec![0; candidates.len()];
    for (place, candidate) in spread(candidates.iter().collect()).into_iter().enumerate() {
        let lighter = u32::from(3 - candidate.weight.clamp(1, 3));
        ranks[at[candidate.key]] = lighter * 1_000_000 + place as u32;
    }
    ranks
}

/// Unseen cards one topic after the other, round and round: first those of the certificate; within a topic the
/// weightiest first, then in the deck's order.
fn spread<'a, 'b>(unseen: Vec<&'a Candidate<'b>>) -> Vec<&'a Candidate<'b>> {
    let mut result = Vec::with_capacity(unseen.len());
    for wanted in [true, false] {
        let mut topics: BTreeMap<&str, Vec<&Candidate<'_>>> = BTreeMap::new();
        for candidate in unseen.iter().filter(|c| c.wanted == wanted) {
            topics.entry(candidate.topic).or_default().push(candidate);
        }
        for cards in topics.values_mut() {
            cards.sort_by_key(|c| std::cmp::Reverse(c.weight));
            cards.reverse();
        }
        while !topics.is_empty() {
            topics.retain(|_, cards| {
                result.extend(cards.pop());
                !cards.is_empty()
            });
        }
    }
    result
}
