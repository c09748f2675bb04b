//! `bedplate try DECK CARD [--answer JSON]`: marks an answer to a card, or to a follow-up of it, and prints the marking as
//! JSON, or in words how it came about. Without an answer it asks for one.
//!
//! Exit codes: 0 marked, whatever the outcome; 2 an error of the call, told on standard error.

use std::ops::Range;
use std::path::Path;
use std::process::ExitCode;

use super::asked::{self, came_to};
use super::forms::read_answer;
use super::marker::CommandReader;
use super::out::{self, cannot};
use crate::cli::deck_at;
use crate::deck::{Reading, Severity};
use crate::domain::answer::Answer;
use crate::domain::card::Card;
use crate::domain::marking::text::find;
use crate::domain::marking::{Marker, mark_read, rule_in_words, to_read};
use crate::domain::oral;

/// How an answer is tried.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wish<'a> {
    /// The answer as JSON; without it, it is asked for.
    pub(super) answer: Option<&'a str>,
    /// The follow-up that is tried in the place of the card: its number, or `reason`.
    pub(super) probe: Option<&'a str>,
    /// Of a card with figures that are drawn: what they are drawn from.
    pub(super) seed: u64,
    /// Typed words are marked by themselves, without the trained reader.
    pub(super) plain: bool,
    /// Print how the marking came about.
    pub(super) explain: bool,
    /// Print JSON also where the answer is asked for.
    pub(super) json: bool,
}

/// Marks an answer to the card `card` of the deck in the folder `deck`, and prints the marking: as one JSON object, or in
/// words where the answer was asked for or `explain` wants it.
pub(super) fn run(deck: &Path, card: &str, wish: Wish<'_>) -> ExitCode {
    // What is wrong with the answer is told before a deck is read.
    let given = wish.answer.map(read_answer).transpose();
    let printed = given.and_then(|given| {
        let reading = deck_at::read_to_ask(deck);
        let lead = find_card(&reading, card)?;
        let card = wish.probe.map(|which| follow_up(lead, which)).transpose()?;
        let card = card.as_ref().unwrap_or(lead);
        let answer = match given {
            Some(answer) => answer,
            None => asked::ask(card, wish.seed, wish.json).map_err(|error| error.to_string())??,
        };
        // The reader is loaded only for an answer that it can read.
        let has_words = to_read(card, &answer.given).is_some();
        let reader = CommandReader::load(wish.plain || !has_words);
        match (wish.explain, wish.answer.is_some() || wish.json) {
            (true, _) => explained_of(card, &answer, reader.marker()),
            (false, true) => printed_of(card, &answer, reader.marker()),
            (false, false) => asked::told(card, answer, wish.seed, reader.marker()),
        }
    });
    match printed {
        Ok(text) => out::ended(out::all(text.as_bytes()), ExitCode::SUCCESS),
        Err(message) => cannot(message),
    }
}

/// A follow-up of a card as a card of its own.
fn follow_up(lead: &Card, which: &str) -> Result<Card, String> {
    if which == "reason" {
        return match lead.because_points.is_empty() {
            true => {
                Err(format!("the card `{}` has no `because_points`, so its reason is not asked for", lead.key.card))
            }
            false => Ok(oral::follow_up(lead, oral::REASON_ASKED, &lead.because_points)),
        };
    }
    let number = which.parse::<usize>().ok().and_then(|number| number.checked_sub(1));
    match number.and_then(|at| lead.probes.get(at)) {
        Some(probe) => Ok(oral::follow_up(lead, &probe.ask, &probe.points)),
        None => Err(match lead.probes.len() {
            0 => format!("the card `{}` has no follow-ups", lead.key.card),
            1 => format!("the card `{}` has one follow-up: write --probe 1", lead.key.card),
            many => format!(
                "the card `{}` has {many} follow-ups: write --probe with a number from 1 to {many}",
                lead.key.card
            ),
        }),
    }
}

/// The marking of `answer` (JSON) to a card of a deck that was read, by its words alone, as it is printed.
///
/// # Errors
/// Those of [`printed_by`].
pub fn printed(reading: &Reading, card: &str, answer: &str) -> Result<String, String> {
    printed_by(reading, card, answer, Marker::default())
}

/// The marking of `answer` (JSON) to a card of a deck that was read, by `marker`, as it is printed.
///
/// # Errors
/// With a message, where the answer cannot be read or there is no such card, or the two do not go together.
pub fn printed_by(reading: &Reading, card: &str, answer: &str, marker: Marker<'_>) -> Result<String, String> {
    printed_of(find_card(reading, card)?, &read_answer(answer)?, marker)
}

fn printed_of(card: &Card, answer: &Answer, marker: Marker<'_>) -> Result<String, String> {
    let marking = marker.mark(card, answer).map_err(|error| error.message)?;
    let text = serde_json::to_string_pretty(&marking);
    text.map(|text| text + "\n").map_err(|error| format!("the marking cannot be written as JSON: {error}"))
}

/// How the marking of an answer came about, in words: for each point the phrases that stand for it, what each reader
/// found where, and the rule's sums. Answers that are not typed words have their reason alone.
fn explained_of(card: &Card, answer: &Answer, marker: Marker<'_>) -> Result<String, String> {
    let read = marker.read(card, &answer.given);
    let marking = mark_read(card, answer, read.as_ref()).map_err(|error| error.message)?;
    let mut text = format!("{}: {}. {}\n", card.key, marking.outcome.word(), marking.reason);
    let Some((points, words)) = to_read(card, &answer.given) else { return Ok(text) };
    let found = find(&card.ask, points, words);
    let place = |span: Option<&Range<usize>>| {
        span.and_then(|span| words.get(span.clone())).map_or_else(String::new, |words| format!(" in “{words}”"))
    };
    for (at, (point, mark)) in points.iter().zip(marking.detail.points().unwrap_or_default()).enumerate() {
        let critical = if point.critical { ", safety-critical" } else { "" };
        text += &format!("\n{}. {}{critical}: {}\n", at + 1, point.say, came_to(mark));
        text += &format!("   phrases: {}\n", point.accept.join("; "));
        if !point.reject.is_empty() {
            text += &format!("   refused: {}\n", point.reject.join("; "));
        }
        let matched = &found[at];
        let by_words = match (matched.said, matched.contradicted) {
            (_, true) => "contradicted",
            (true, false) => "said",
            (false, false) => "not found",
        };
        text += &format!("   matcher of words: {by_words}{}\n", place(matched.evidence.as_ref()));
        if let (Some(read), Some(scores)) = (&read, mark.scores) {
            let read = &read.points[at];
            text += &format!(
                "   trained reader: said {:.3}, denied {:.3}; looked{}\n",
                read.said.share(),
                read.denied.share(),
                place(read.evidence.as_ref())
            );
            text += &format!("   both, by the rule: said {}, denied {}\n", chance(scores.said), chance(scores.denied));
        }
    }
    if let Some(read) = &read {
        text += &format!("\n{}", rule_in_words(points, &found, read, words));
    }
    Ok(text)
}

fn chance(thousandths: u16) -> String {
    format!("{:.3}", f64::from(thousandths) / 1_000.0)
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
