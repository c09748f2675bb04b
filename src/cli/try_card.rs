//! `bedplate try DECK CARD --answer JSON`: marks an answer to a card and prints the marking as JSON.
//!
//! Exit codes: 0 marked, whatever the outcome; 2 an error of the call, told on standard error.

use std::collections::BTreeMap;
use std::io::Write;
use std::path::Path;
use std::process::ExitCode;

use serde_json::{Map, Value};

use super::cannot;
use crate::deck::{Reading, Severity, read_deck};
use crate::domain::answer::{Answer, Given, Worked};
use crate::domain::card::Card;
use crate::domain::marking::{Marking, mark};

/// The forms of an answer that this version can mark.
const FORMS: &str = "`text` (recall, figure), `text` with `givens` or `seed` (working), `said` (recall), `links` (why) \
                     or `steps` (sequence)";
/// Keys of answers to kinds of card that this version does not mark.
const OTHER_KEYS: &[&str] = &["open", "ways", "at", "part"];
/// Keys that stand beside `text` in an answer to a working.
const WORKING_KEYS: &[&str] = &["givens", "seed", "lines"];

/// Marks `answer` (JSON, as DECK.md describes) to the card `card` of the deck in the folder `deck`, and prints the
/// marking as one JSON object.
pub fn run(deck: &Path, card: &str, answer: &str) -> ExitCode {
    match try_card(deck, card, answer) {
        Ok(marking) => match serde_json::to_string_pretty(&marking) {
            Ok(text) => {
                // A reader that has gone away (a closed pipe) is no fault of the call.
                let _ = writeln!(std::io::stdout(), "{text}");
                ExitCode::SUCCESS
            }
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

/// Reads an answer: an object with one of the forms and, if wanted, `seconds`.
pub fn read_answer(text: &str) -> Result<Answer, String> {
    let value: Value = serde_json::from_str(text).map_err(|error| format!("the answer is no JSON: {error}"))?;
    let Value::Object(object) = value else {
        return Err(format!("the answer must be a JSON object with {FORMS}, such as {{\"text\": \"30 bar\"}}"));
    };
    let known = ["text", "said", "links", "steps", "seconds"];
    let is_known = |key: &str| known.contains(&key) || WORKING_KEYS.contains(&key);
    if let Some(key) = object.keys().find(|key| !is_known(key)) {
        return Err(if OTHER_KEYS.contains(&key.as_str()) {
            format!("`{key}` answers a kind of card that this version does not mark; use {FORMS}")
        } else {
            format!("the answer has an unknown key `{key}`; use {FORMS}, and `seconds` if wanted")
        });
    }
    let seconds = seconds(&object)?;
    let forms: Vec<&str> = ["text", "said", "links", "steps"].into_iter().filter(|k| object.contains_key(*k)).collect();
    let given = match forms.as_slice() {
        ["text"] if WORKING_KEYS.iter().any(|key| object.contains_key(*key)) => Given::Worked(worked(&object)?),
        ["text"] => Given::Text(words(&object)?),
        ["said"] => Given::Said(positions(&object, "said")?),
        ["links"] => Given::Links(positions(&object, "links")?),
        ["steps"] => Given::Steps(keys(&object)?),
        [] if WORKING_KEYS.iter().any(|key| object.contains_key(*key)) => {
            return Err("the answer has no `text`, such as \"4320 kW\"".to_owned());
        }
        [] => return Err(format!("the answer gives nothing; use one of {FORMS}")),
        _ => return Err(format!("the answer gives {} at once; use one of {FORMS}", forms.join(" and "))),
    };
    Ok(Answer { given, seconds })
}

fn words(object: &Map<String, Value>) -> Result<String, String> {
    match object.get("text") {
        Some(Value::String(text)) => Ok(text.clone()),
        _ => Err("`text` must be a string, such as \"30 bar\"".to_owned()),
    }
}

/// What was worked out: the answer with its figures or their seed, and the worksheet's lines.
fn worked(object: &Map<String, Value>) -> Result<Worked, String> {
    let seed = match object.get("seed") {
        None => None,
        Some(seed) => Some(seed.as_u64().ok_or("`seed` must be a whole number from 0, such as 7")?),
    };
    let mut givens = BTreeMap::new();
    match object.get("givens") {
        None => {}
        Some(Value::Object(figures)) => {
            for (name, figure) in figures {
                let text = match figure {
                    Value::String(text) => text.clone(),
                    Value::Number(number) => number.to_string(),
                    _ => return Err(format!("the given `{name}` must be a text such as \"320 mm\"")),
                };
                givens.insert(name.clone(), text);
            }
        }
        Some(_) => return Err("`givens` must be an object such as {\"bore\": \"320 mm\"}".to_owned()),
    }
    if seed.is_some() && object.contains_key("givens") {
        return Err("the answer gives `givens` and `seed` at once; use one of them".to_owned());
    }
    let wrong = || "`lines` must be a list of lines such as [\"A = pi/4 * bore^2\"]".to_owned();
    let lines = match object.get("lines") {
        None => Vec::new(),
        Some(Value::Array(lines)) => {
            lines.iter().map(|line| line.as_str().map(str::to_owned).ok_or_else(wrong)).collect::<Result<_, _>>()?
        }
        Some(_) => return Err(wrong()),
    };
    Ok(Worked { seed, givens, text: words(object)?, lines })
}

fn keys(object: &Map<String, Value>) -> Result<Vec<String>, String> {
    let wrong = || "`steps` must be a list of step keys, such as [\"prime\", \"start\"]".to_owned();
    let Some(Value::Array(items)) = object.get("steps") else { return Err(wrong()) };
    items.iter().map(|item| item.as_str().map(str::to_owned).ok_or_else(wrong)).collect()
}

fn positions(object: &Map<String, Value>, key: &str) -> Result<Vec<usize>, String> {
    let wrong = || format!("`{key}` must be a list of whole numbers from 1, such as [1, 3]");
    let Some(Value::Array(items)) = object.get(key) else { return Err(wrong()) };
    let position = |item: &Value| item.as_u64().and_then(|n| usize::try_from(n).ok()).ok_or_else(wrong);
    items.iter().map(position).collect()
}

fn seconds(object: &Map<String, Value>) -> Result<Option<f64>, String> {
    match object.get("seconds") {
        None => Ok(None),
        Some(value) => match value.as_f64().filter(|s| s.is_finite() && *s >= 0.0) {
            Some(seconds) => Ok(Some(seconds)),
            None => Err("`seconds` must be a number from 0, such as 40".to_owned()),
        },
    }
}
