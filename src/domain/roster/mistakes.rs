//! The mistakes that a class really made: known slips, denials, and what was typed where that was handed in.

use std::collections::BTreeMap;

use super::record::{AssignedCard, ClassRecord};
use crate::domain::answer::Given;

/// So many typed answers of a card are shown.
const MOST_TYPED: usize = 3;

/// A mistake, with how many answers made it.
#[derive(Debug, Clone, PartialEq)]
pub struct Mistake {
    /// The card's position.
    pub card: usize,
    /// What it was.
    pub what: Sort,
    /// Answers that made it.
    pub count: usize,
}

/// Sorts of mistake.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sort {
    /// A key point, by its number, of which the opposite was said.
    Denied(usize),
    /// A slip that the deck or the program knows, by its words or its kind.
    Slip(String),
    /// What was typed in an answer that was missed.
    Typed(String),
}

/// The mistakes at these cards, by position: denials and slips as often as they were made, then answers typed.
pub fn mistakes(record: &ClassRecord, cards: &[AssignedCard], of: &[usize]) -> Vec<Mistake> {
    let mut all = Vec::new();
    for at in of {
        let mut counts: BTreeMap<Sort, usize> = BTreeMap::new();
        let mut typed = Vec::new();
        let attempts = record.learners.iter().flat_map(|learner| &learner.attempts);
        for attempt in attempts.filter(|attempt| !attempt.voided && attempt.card == cards[*at].card) {
            for point in &attempt.denied {
                *counts.entry(Sort::Denied(*point)).or_default() += 1;
            }
            if let Some(slip) = &attempt.slip {
                *counts.entry(Sort::Slip(slip.tell.clone().unwrap_or_else(|| slip.kind.clone()))).or_default() += 1;
            }
            let text = match &attempt.answer {
                Some(Given::Text(text)) => Some(text),
                Some(Given::Worked(worked)) => Some(&worked.text),
                _ => None,
            };
            if let Some(text) = text.filter(|text| !attempt.is_right() && !text.trim().is_empty()) {
                typed.push(text.trim().to_owned());
            }
        }
        let mut told: Vec<Mistake> =
            counts.into_iter().map(|(what, count)| Mistake { card: *at, what, count }).collect();
        told.sort_by_key(|mistake| std::cmp::Reverse(mistake.count));
        typed.dedup();
        told.extend(typed.into_iter().take(MOST_TYPED).map(|text| Mistake {
            card: *at,
            what: Sort::Typed(text),
            count: 1,
        }));
        all.extend(told);
    }
    all
}
