//! `bedplate try DECK CARD --answer JSON`: marks an answer to a card and prints the marking as JSON.
//!
//! Exit codes: 0 marked, whatever the outcome; 2 an error of the call, told on standard error.

use std::path::Path;
use std::process::ExitCode;

use super::forms::read_answer;
use super::{cannot, out};
use crate::deck::{Reading, Severity, read_deck};
use crate::domain::card::Card;
use crate::domain::marking::{Marking, mark};

/// Marks `answer` (JSON, as DECK.md describes) to the card `card` of the deck in the folder `deck`, and prints the
/// marking as one JSON object.
pub fn run(deck: &Path, card: &str, answer: &str) -> ExitCode {
    match try_card(deck, card, answer) {
        Ok(marking) => match serde_json::to_string_pretty(&marking) {
            Ok(text) => out::ended(out::line(format_args!("{text}")), ExitCode::SUCCESS),
            Err(error) => cannot(format!("the marking cannot be written as JSON: {error}")),
        },
        Err(message) => cannot(message),
    }
}

fn try_card(deck: &Path, card: &str, answer: &str) -> Result<Marking, String> {
    let answer = read_answer(answer)?;
    let reading = read_deck(deck);
    let card = find_card(&reading, card)?;
    mark(card, &answer).map_err(|error| error.message)
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
