//! Cards that ask nearly the same, or whose answers hold the same, within a deck and across decks.

use super::finding::{Finding, Sort};
use crate::deck::likeness::alike;
use crate::domain::card::Card;
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
    let answers: Vec<String> = cards.iter().map(|card| card.body.as_kind().answer_in_words()).collect();
    let answered = alike(answers.iter().map(String::as_str)).into_iter().map(|pair| of(pair, "its answer says"));
    found.extend(answered);
    found
}

/// Different kinds ask different things in like words.
fn asked(card: &Card) -> &str {
    if card.body.as_kind().is_plain_question() { &card.ask } else { "" }
}
