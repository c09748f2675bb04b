//! A watch that is limited, for this once: to a deck, a topic, a heading, an assignment, or what a search found.

use crate::app::profile::learner::Learner;
use crate::app::profile::shelf::{Shelf, area_name};
use crate::domain::card::Card;
use crate::domain::day::StudyDay;
use crate::domain::ids::{CardKey, DeckId};
use crate::domain::memory::order::{Item, Order, Reason};

/// What a watch is limited to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Only {
    /// A deck, by its id.
    Deck(DeckId),
    /// A competence, by its key; the key of a function or of a table stands for all that is in it.
    Topic(String),
    /// A heading, by its words.
    Heading(String),
    /// An assignment, by its id.
    Assignment(String),
    /// These cards, such as those that a search found.
    Cards(Vec<CardKey>),
}

impl Only {
    /// Whether a card belongs to it.
    pub fn has(&self, card: &Card, learner: &Learner) -> bool {
        match self {
            Only::Deck(deck) => card.key.deck == *deck,
            Only::Topic(topic) => {
                card.topic.strip_prefix(topic.as_str()).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
            }
            Only::Heading(heading) => area_name(card).eq_ignore_ascii_case(heading),
            Only::Assignment(id) => {
                learner.assignments.iter().any(|assignment| assignment.id == *id && assignment.has(&card.key))
            }
            Only::Cards(cards) => cards.contains(&card.key),
        }
    }
}

impl Learner {
    /// The cards that a watch may be limited to, within `budget` seconds: what is due and what is not yet asked, or else, where
    /// nothing of it is, what is recalled least. What is left out stays due.
    pub fn order_of(&self, only: &Only, shelf: &Shelf, day: StudyDay, budget: f64) -> Order {
        let of = |card: &Card| only.has(card, self);
        let order = self.steady_order(shelf, day, budget, &of);
        if !order.items.is_empty() {
            return order;
        }
        let pace = self.pace(shelf);
        let cards = shelf.cards().map(|(_, card)| card).filter(|card| of(card) && !self.is_aside(&card.key, day));
        let mut cards: Vec<(f64, &Card)> =
            cards.map(|card| (self.recall(&card.key, day).unwrap_or(0.0), card)).collect();
        cards.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.1.key.cmp(&b.1.key)));
        let mut items: Vec<Item> = Vec::new();
        let mut left = budget;
        for (_, card) in cards {
            let seconds = pace.seconds(card.kind());
            if left <= 0.0 || (seconds > left && !items.is_empty()) {
                break;
            }
            left -= seconds;
            items.push(Item { key: card.key.clone(), reason: Reason::Due, seconds });
        }
        Order { items, left_over: 0 }
    }
}
