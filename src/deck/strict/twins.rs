//! Cards that ask nearly the same, or whose answers hold the same, within a deck and across decks.

use super::{Finding, Sort};
use crate::deck::likeness::alike;
use crate::domain::card::{Body, Card};
use crate::domain::deck::Deck;

pub(super) fn check(decks: &[&Deck]) -> Vec<Finding> {
    let cards: Vec<&Card> = decks.iter().flat_map(|deck| &deck.cards).collect();
    let of = |(later, earlier): (usize, usize), what: &str| {
        Finding::of_card(
            Sort::Twins,
            &cards[later].key,
            format!("{what} nearly the same as {}", cards[earlier].key),
            "keep the better of the two, or make each ask what the other does not",
        )
    };
    let mut found: Vec<Finding> =
        alike(cards.iter().map(|card| asked(card))).into_iter().map(|pair| of(pair, "it asks")).collect();
    let answers: Vec<String> = cards.iter().map(|card| answer(card)).collect();
    let answered = alike(answers.iter().map(String::as_str)).into_iter().map(|pair| of(pair, "its answer says"));
    found.extend(answered);
    found
}

/// Different kinds ask different things in like words: which part, which order, which figure.
fn asked(card: &Card) -> &str {
    match card.body {
        Body::Recall(_) | Body::Figure(_) | Body::Why(_) => &card.ask,
        _ => "",
    }
}

fn answer(card: &Card) -> String {
    match &card.body {
        Body::Recall(recall) => recall.points.iter().map(|point| format!("{} ", point.say)).collect(),
        Body::Why(why) => why.links.join(" "),
        _ => String::new(),
    }
}
