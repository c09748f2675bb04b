//! First attempts: for each learner and card the first answer that was not taken back.

use rustc_hash::FxHashMap;

use super::record::{AssignedCard, HandedAttempt};
use crate::domain::ids::CardKey;

/// The first attempts of a class at a set of cards.
pub struct Firsts<'a> {
    learners: Vec<Vec<Option<&'a HandedAttempt>>>,
    cards: usize,
}

impl<'a> Firsts<'a> {
    /// Of these cards, and of learners each with all attempts handed in, in any order.
    pub fn of(cards: &[AssignedCard], learners: &[&'a [HandedAttempt]]) -> Self {
        let at: FxHashMap<&CardKey, usize> = cards.iter().enumerate().map(|(at, card)| (&card.card, at)).collect();
        let row = |attempts: &&'a [HandedAttempt]| {
            let mut row: Vec<Option<&'a HandedAttempt>> = vec![None; cards.len()];
            for attempt in attempts.iter().filter(|attempt| !attempt.voided) {
                let Some(at) = at.get(&attempt.card) else { continue };
                let is_earlier = |first: &HandedAttempt| (attempt.at, &attempt.id) < (first.at, &first.id);
                if row[*at].is_none_or(is_earlier) {
                    row[*at] = Some(attempt);
                }
            }
            row
        };
        Self { learners: learners.iter().map(row).collect(), cards: cards.len() }
    }

    /// How many cards there are.
    pub fn cards(&self) -> usize {
        self.cards
    }

    /// How many learners there are.
    pub fn learners(&self) -> usize {
        self.learners.len()
    }

    /// All first attempts at a card, by position.
    pub fn of_card(&self, card: usize) -> impl Iterator<Item = &'a HandedAttempt> {
        self.learners.iter().filter_map(move |row| row[card])
    }

    /// All first attempts of a learner, by position.
    pub fn of_learner(&self, learner: usize) -> impl Iterator<Item = &'a HandedAttempt> {
        self.learners[learner].iter().filter_map(|first| *first)
    }

    /// The learner's first attempt at each card, in order of the cards.
    pub fn row(&self, learner: usize) -> &[Option<&'a HandedAttempt>] {
        &self.learners[learner]
    }

    /// Right, wrong or none, a row for each learner.
    pub fn right(&self) -> Vec<Vec<Option<bool>>> {
        let right = |row: &Vec<Option<&HandedAttempt>>| row.iter().map(|first| first.map(|f| f.is_right())).collect();
        self.learners.iter().map(right).collect()
    }

    /// For each card: how many met it, and how many of those were right.
    pub fn counts(&self) -> Vec<(usize, usize)> {
        let count =
            |card| self.of_card(card).fold((0, 0), |(n, right), first| (n + 1, right + usize::from(first.is_right())));
        (0..self.cards).map(count).collect()
    }
}
