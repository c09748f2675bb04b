//! `bedplate try DECK CARD --answer JSON`: marks an answer to a card and prints the marking as JSON.
//!
//! Exit codes: 0 marked, whatever the outcome; 2 an error of the call, told on standard error.

use std::path::Path;
use std::process::ExitCode;

use super::forms::read_answer;
use super::out::{self, cannot};
use crate::deck::{Reading, Severity, read_deck_to_ask};
use crate::domain::card::Card;
use crate::domain::marking::mark;

/// Marks `answer` (JSON, as DECK.md describes) to the card `card` of the deck in the folder `deck`, and prints the
/// marking as one JSON object.
pub fn run(deck: &Path, card: &str, answer: &str) -> ExitCode {
    // What is wrong with the answer is told before a deck is read.
    match read_answer(answer).and_then(|_| printed(&read_deck_to_ask(deck), card, answer)) {
        Ok(text) => out::ended(out::all(text.as_bytes()), ExitCode::SUCCESS),
        Err(message) => cannot(message),
    }
}

/// The marking of `answer` (JSON) to a card of a deck that was read, as it is printed.
///
/// # Errors
/// With a message, where the answer cannot be read or there is no such card, or the two do not go together.
pub fn printed(reading: &Reading, card: &str, answer: &str) -> Result<String, String> {
    let answer = read_answer(answer)?;
    let card = find_card(reading, card)?;
    let marking = mark(card, &answer).map_err(|error| error.message)?;
    let text = serde_json::to_string_pretty(&marking);
    text.map(|text| text + "\n").map_err(|error| format!("the marking cannot be written as JSON: {error}"))
}

/// The card of this id, or of this key (`deck-id/card-id`).
pub(super) fn find_card<'a>(reading: &'a Reading, id: &str) -> Result<&'a Card, String> {
    let problems = || reading.problems.iter().filter(|p| p.severity == Severity::Error);
    let Some(deck) = reading.deck.as_ref().filter(|_| reading.readable) else {
        let why =
            problems().next().map_or_else(|| "it cannot be read".to_owned(), |p| format!("{}; {}", p.message, p.mend));
        return Err(format!("no deck to try a card of: {why}"));
    };
    if let Some(card) = deck.cards.iter().find(|c| c.key.card == id || c.key.to_string() == id) {
        return Ok(card);
    }
    let mut message = format!("the deck `{}` has no card `{id}` that can be tried", deck.id);
    let near = deck.cards.iter().map(|c| c.key.card.as_str()).min_by_key(|have| distance(have, id));
    if let Some(near) = near.filter(|have| distance(have, id) <= 1 + id.chars().count() / 4) {
        message += &format!("; did you mean `{near}`?");
    }
    if problems().next().is_some() {
        message += "; the deck has errors, which `bedplate check` lists";
    }
    Err(message)
}

/// How many letters of two ids differ between what they begin and what they end with alike.
fn distance(a: &str, b: &str) -> usize {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    let front = a.iter().zip(&b).take_while(|(x, y)| x == y).count();
    let back = a[front..].iter().rev().zip(b[front..].iter().rev()).take_while(|(x, y)| x == y).count();
    a.len().max(b.len()) - front - back
}
