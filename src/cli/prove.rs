//! `bedplate prove DECK CARD [--json]`: what the engine knows of a sequence before anyone answers it.
//!
//! Exit codes: 0 proved, whether it works or not; 2 an error of the call, told on standard error. A card that has
//! errors is proved too where all of it could be read: that a sequence does not work is what one wants to look into.

use std::io::Write;
use std::path::Path;
use std::process::ExitCode;

use serde::Serialize;

use super::say::{labelled, printable};
use super::{cannot, try_card};
use crate::deck::read_deck;
use crate::domain::card::{Body, Card};
use crate::domain::plant::{Procedure, prove};

/// What is printed with `--json`. Steps are meant by key.
#[derive(Debug, Serialize)]
pub struct Proved {
    /// Some order of some of the steps works.
    pub works: bool,
    /// How many orders of all steps that are no traps work, in decimal; none beyond 20 such steps.
    pub orders: Option<String>,
    /// A working order of fewest steps.
    pub one: Option<Vec<String>>,
    /// Steps without which no order works.
    pub needed: Vec<String>,
    /// The other steps that are no traps.
    pub optional: Vec<String>,
    /// Never part of a right answer.
    pub traps: Vec<String>,
}

/// Proves the card `card` of the deck in the folder `deck` and prints what is known, as text or as JSON.
pub fn run(deck: &Path, card: &str, json: bool) -> ExitCode {
    let reading = read_deck(deck);
    let unsound = reading.unsound.iter().find(|c| c.key.card == card || c.key.to_string() == card);
    let found = match (try_card::find_card(&reading, card), unsound) {
        (Ok(card), _) | (Err(_), Some(card)) => card,
        (Err(message), None) => return cannot(message),
    };
    let (procedure, proved) = match proved(found) {
        Ok(proved) => proved,
        Err(message) => return cannot(message),
    };
    let text = if json {
        match serde_json::to_string_pretty(&proved) {
            Ok(text) => text + "\n",
            Err(error) => return cannot(format!("the proof cannot be written as JSON: {error}")),
        }
    } else {
        text(procedure, &proved)
    };
    // A reader that has gone away (a closed pipe) is no fault of the call.
    let _ = std::io::stdout().write_all(text.as_bytes());
    ExitCode::SUCCESS
}

/// Proves a sequence card.
///
/// # Errors
/// Where the card is of another kind, or too complex.
pub fn proved(card: &Card) -> Result<(&Procedure, Proved), String> {
    let Body::Sequence(procedure) = &card.body else {
        return Err(format!("`{}` is a {} card; only a sequence can be proved", card.key.card, card.kind().word()));
    };
    let proof = prove(procedure).map_err(|error| error.to_string())?;
    let keys = |steps: &[usize]| steps.iter().map(|step| procedure.steps[*step].key.clone()).collect::<Vec<_>>();
    let proved = Proved {
        works: proof.works,
        orders: proof.orders.map(|orders| orders.to_string()),
        one: proof.one.as_deref().map(keys),
        needed: keys(&proof.needed),
        optional: keys(&proof.optional),
        traps: keys(&proof.traps),
    };
    Ok((procedure, proved))
}

fn text(procedure: &Procedure, proved: &Proved) -> String {
    let mut lines = Vec::new();
    lines.push(match (&proved.works, proved.orders.as_deref()) {
        (false, _) => "No order of the steps reaches the goal.".to_owned(),
        (true, None) => "It works. There are too many steps to count the orders.".to_owned(),
        (true, Some("0")) => "It works, but no working order uses every step.".to_owned(),
        (true, Some("1")) => "It works. One order of all steps works.".to_owned(),
        (true, Some(orders)) => format!("It works. {orders} orders of all steps work."),
    });
    let say = |key: &String| procedure.step_of(key).map_or("", |step| procedure.steps[step].say.as_str());
    if let Some(one) = &proved.one {
        lines.push("A shortest order:".to_owned());
        lines.extend(
            one.iter()
                .enumerate()
                .map(|(n, key)| labelled(&format!("  {}", n + 1), &format!("{}: {}", printable(key), say(key)), 6)),
        );
    }
    for (word, keys) in [("Needed", &proved.needed), ("Optional", &proved.optional), ("Traps", &proved.traps)] {
        let keys = if keys.is_empty() { "none".to_owned() } else { keys.join(", ") };
        lines.push(labelled(&format!("{word}:"), &keys, 10));
    }
    lines.join("\n") + "\n"
}
