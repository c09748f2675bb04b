//! Weights and critical points that tell nothing apart, and cards without a reason.

use super::finding::{Finding, Sort};
use crate::domain::card::Card;
use crate::domain::deck::Deck;

/// Smaller decks may well weigh alike.
const FEWEST_CARDS: usize = 20;
/// The most of a deck that may have the highest weight.
const MOST_HEAVY: f64 = 0.5;
/// The most of a deck's points that may be safety-critical.
const MOST_CRITICAL: f64 = 0.3;

pub(super) fn check(decks: &[&Deck]) -> Vec<Finding> {
    let mut found = Vec::new();
    for deck in decks {
        let weights = |message: String, mend: &'static str| Finding {
            sort: Sort::Weights,
            deck: Some(deck.id.clone()),
            card: None,
            message,
            mend,
        };
        found.extend(deck.cards.iter().filter(|card| card.because.is_none()).map(|card| {
            Finding::of_card(Sort::NoReason, &card.key, "it has no reason".to_owned(), "say why in `because`")
        }));
        found.extend(deck.cards.iter().filter(|card| all_critical(card)).map(|card| {
            let message = "every one of its points is safety-critical".to_owned();
            Finding::of_card(
                Sort::Weights,
                &card.key,
                message,
                "mark those that people's safety hangs on, and no others",
            )
        }));
        if deck.cards.len() < FEWEST_CARDS {
            continue;
        }
        let share = |of: &dyn Fn(&&Card) -> bool| deck.cards.iter().filter(of).count() as f64 / deck.cards.len() as f64;
        let heavy = share(&|card| card.weight >= 3);
        if heavy > MOST_HEAVY {
            let message = format!("{:.0} % of its cards have the highest weight", heavy * 100.0);
            found.push(weights(message, "keep weight 3 for what every oral asks"));
        }
        if deck.cards.iter().all(|card| card.weight == deck.cards[0].weight) {
            let message = format!("all its cards weigh {}", deck.cards[0].weight);
            found.push(weights(message, "give what matters more a higher weight than the rest"));
        }
        let points = deck.cards.iter().flat_map(points_of);
        let (critical, all) = points.fold((0, 0), |(critical, all), is| (critical + usize::from(is), all + 1));
        if f64::from(critical as u32) > MOST_CRITICAL * f64::from(all as u32) {
            let message = format!("{critical} of its {all} points are safety-critical");
            found.push(weights(message, "mark those that people's safety hangs on, and no others"));
        }
    }
    found
}

fn points_of(card: &Card) -> impl Iterator<Item = bool> {
    card.key_points().unwrap_or_default().iter().map(|point| point.critical)
}

fn all_critical(card: &Card) -> bool {
    points_of(card).count() > 2 && points_of(card).all(|critical| critical)
}
