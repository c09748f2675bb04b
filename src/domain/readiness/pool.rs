//! The oral as a blueprint draws it from the cards at hand.

use super::exam::{Exam, Item, Part};
use crate::domain::card::Card;
use crate::domain::day::StudyDay;
use crate::domain::ids::CardKey;
use crate::domain::oral::{Blueprint, allot, function_of};

/// The oral of a day: what may be asked, how much of it is drawn, and what passes.
#[derive(Debug, Clone, PartialEq)]
pub struct Pool {
    /// The day that it is drawn for.
    pub day: StudyDay,
    /// The oral.
    pub exam: Exam,
    /// Competence keys by area number.
    pub areas: Vec<String>,
    /// For each part of the oral, the keys of its cards in the order of the part's pool.
    pub keys: Vec<Vec<CardKey>>,
}

/// The keys of the functions that a blueprint knows; their places number them.
pub(super) fn functions(blueprint: &Blueprint) -> Vec<&str> {
    blueprint.functions().into_iter().map(|(key, _)| key).collect()
}

/// The least number of `of` that reaches a share of them.
fn at_least(share: f64, of: usize) -> usize {
    (share * of as f64 - 1e-9).ceil().max(0.0) as usize
}

impl Pool {
    /// The oral that `blueprint` draws on `day` from those of `cards` that it may ask; `recall` gives the chance of
    /// recall, 0 to 1, of a card that has been asked before.
    pub fn of<'a>(
        blueprint: &Blueprint,
        cards: impl IntoIterator<Item = &'a Card>,
        day: StudyDay,
        recall: impl Fn(&Card) -> Option<f64>,
    ) -> Self {
        let numbers = functions(blueprint);
        let areas: Vec<String> = blueprint.shares.iter().map(|share| share.competence.clone()).collect();
        let cards: Vec<&Card> = cards.into_iter().filter(|card| blueprint.weight_of(&card.topic) > 0.0).collect();
        let item = |card: &Card| {
            let recall = recall(card);
            Item {
                recall: recall.unwrap_or(0.0),
                critical: blueprint.rules.critical_fails && card.is_critical(),
                unseen: recall.is_none(),
                area: areas.iter().position(|area| *area == card.topic).unwrap_or(0),
            }
        };
        let has_cards = |key: &str| cards.iter().any(|card| function_of(&card.topic) == key);
        let (mut parts, mut keys) = (Vec::new(), Vec::new());
        for (function, drawn) in allot(blueprint, blueprint.length.leads(), has_cards) {
            if drawn == 0 {
                continue;
            }
            let of_function = || cards.iter().filter(|card| function_of(&card.topic) == function);
            parts.push(Part {
                function: numbers.iter().position(|key| *key == function).unwrap_or(0),
                pool: of_function().map(|card| item(card)).collect(),
                drawn,
                floor: at_least(blueprint.rules.each_function, drawn),
            });
            keys.push(of_function().map(|card| card.key.clone()).collect());
        }
        let asked: usize = parts.iter().map(Part::asked).sum();
        Self { day, exam: Exam { needed: at_least(blueprint.rules.overall, asked), parts }, areas, keys }
    }
}
