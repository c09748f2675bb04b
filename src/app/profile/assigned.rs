//! Assignments and the learner: how far each is, and what a day's watch owes it.
//!
//! By the date of an assignment all its cards are to be met and held. Until then each day's watch has its share of the cards
//! that are not yet met, and those of it that slipped or are due, before the rest; while an oral of the learner's own lies
//! ahead they take half of the day's time at most, so that the plan to it is not starved.

use std::collections::HashSet;

use crate::app::profile::learner::Learner;
use crate::app::profile::shelf::Shelf;
use crate::domain::card::Card;
use crate::domain::day::StudyDay;
use crate::domain::ids::CardKey;
use crate::domain::memory::order::{Item, Reason};
use crate::domain::outcome::Outcome;
use crate::domain::roster::Assignment;

/// The share of a day's time that assignments take at most while an oral lies ahead.
const BESIDE_ORAL: f64 = 0.5;

/// How far an assignment is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stand {
    /// The assignment's cards that are on the shelf and not set aside.
    pub cards: usize,
    /// Those met.
    pub met: usize,
    /// Those met whose recall is not below the target today.
    pub held: usize,
    /// Cards that the minutes left until its date do not reach.
    pub short: usize,
}

impl Learner {
    /// Assignments whose date has not passed, the nearest first; those without a date come last.
    pub fn open_assignments(&self, day: StudyDay) -> Vec<&Assignment> {
        let mut open: Vec<&Assignment> =
            self.assignments.iter().filter(|assignment| assignment.by.is_none_or(|by| by >= day)).collect();
        open.sort_by_key(|assignment| (assignment.by.is_none(), assignment.by, assignment.id.clone()));
        open
    }

    /// How far an assignment is on a day.
    pub fn stand_of(&self, assignment: &Assignment, shelf: &Shelf, day: StudyDay) -> Stand {
        let mut stand = Stand { cards: 0, met: 0, held: 0, short: 0 };
        let pace = self.pace(shelf);
        let mut seconds: Vec<f64> = Vec::new();
        for card in self.cards_of(assignment, shelf, day) {
            stand.cards += 1;
            match self.recall(&card.key, day) {
                None => seconds.push(pace.seconds(card.kind())),
                Some(recall) => {
                    stand.met += 1;
                    stand.held += usize::from(recall >= self.model.target());
                }
            }
        }
        if let Some(by) = assignment.by {
            let whole = f64::from(self.settings.minutes) * 60.0;
            let mut left = self.for_assignments_of(self.budget(day), day);
            left += self.for_assignments_of(whole, day) * f64::from(by.days_since(day).saturating_sub(1));
            seconds.sort_by(f64::total_cmp);
            let reached = seconds.iter().take_while(|one| {
                left -= **one;
                left >= 0.0
            });
            stand.short = seconds.len() - reached.count();
        }
        stand
    }

    /// What of a day's seconds assignments may have.
    fn for_assignments_of(&self, seconds: f64, day: StudyDay) -> f64 {
        if self.settings.oral.is_some_and(|oral| oral > day) { seconds * BESIDE_ORAL } else { seconds }
    }

    fn cards_of<'a>(
        &'a self,
        assignment: &'a Assignment,
        shelf: &'a Shelf,
        day: StudyDay,
    ) -> impl Iterator<Item = &'a Card> {
        let on_shelf = assignment.cards.iter().filter_map(|assigned| shelf.card(&assigned.card));
        on_shelf.map(|(_, card)| card).filter(move |card| !self.is_aside(&card.key, day))
    }

    /// What a day's watch owes to assignments with a date, within what they may have of `budget` seconds.
    pub(super) fn owed_to_assignments(&self, shelf: &Shelf, day: StudyDay, budget: f64) -> Vec<Item> {
        let pace = self.pace(shelf);
        let mut left = self.for_assignments_of(budget, day);
        let mut items: Vec<Item> = Vec::new();
        let mut taken: HashSet<&CardKey> = HashSet::new();
        let mut take = |card: &Card, reason: Reason, items: &mut Vec<Item>| {
            let seconds = pace.seconds(card.kind());
            let fits = left >= seconds;
            if fits {
                left -= seconds;
                items.push(Item { key: card.key.clone(), reason, seconds });
            }
            fits
        };
        for assignment in self.open_assignments(day) {
            let Some(by) = assignment.by else { continue };
            let (mut back, mut unseen, mut new_today) = (Vec::new(), Vec::new(), 0usize);
            let cards = self.cards_of(assignment, shelf, day).filter(|card| !self.is_changed(&card.key));
            for card in cards.filter(|card| taken.insert(&card.key)) {
                match self.memory.get(&card.key) {
                    None => unseen.push(card),
                    Some(memory) if memory.last == Outcome::Missed && memory.due <= day => back.push((0.0, card)),
                    Some(memory) if memory.due <= day => back.push((self.model.known(memory, day), card)),
                    Some(memory) => new_today += usize::from(memory.seen == 1 && memory.last_day == day),
                }
            }
            back.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.1.key.cmp(&b.1.key)));
            for (recall, card) in back {
                take(card, if recall > 0.0 { Reason::Due } else { Reason::Slipped }, &mut items);
            }
            // On its date it is to be held: the day itself is for what comes back, unless it is today.
            let days = by.days_since(day).max(1) as usize;
            let share = (unseen.len() + new_today).div_ceil(days).saturating_sub(new_today);
            for card in unseen.into_iter().take(share) {
                if !take(card, Reason::Unseen, &mut items) {
                    break;
                }
            }
        }
        items
    }
}
