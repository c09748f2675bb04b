//! `bedplate prove DECK CARD [--json]`: what the engine knows of a sequence or a line-up before anyone answers it.
//!
//! Exit codes: 0 proved, whether it works or not; 2 an error of the call, told on standard error. A card that has
//! errors is proved too where all of it could be read: that it does not work is what one wants to look into.

mod kinds;

use std::path::Path;
use std::process::ExitCode;

use super::{cannot, out, try_card};
use crate::cli::deck_at;
use crate::deck::Reading;
use crate::domain::card::Card;
use kinds::Proved;

/// Proves the card `card` of the deck in the folder `deck` and prints what is known, as text or as JSON.
pub fn run(deck: &Path, card: &str, json: bool) -> ExitCode {
    match printed(&deck_at::read_to_ask(deck), card, json) {
        Ok(text) => out::ended(out::all(text.as_bytes()), ExitCode::SUCCESS),
        Err(message) => cannot(message),
    }
}

/// What is known of a card of a deck that was read, as it is printed.
///
/// # Errors
/// With a message, where there is no such card or it cannot be proved.
pub fn printed(reading: &Reading, card: &str, json: bool) -> Result<String, String> {
    let unsound = reading.unsound.iter().find(|c| c.key.card == card || c.key.to_string() == card);
    let found = match (try_card::find_card(reading, card), unsound) {
        (Ok(card), _) | (Err(_), Some(card)) => card,
        (Err(message), None) => return Err(message),
    };
    let known = proved(found)?;
    if !json {
        return Ok(known.text);
    }
    known.json.map(|text| text + "\n").map_err(|error| format!("the proof cannot be written as JSON: {error}"))
}

/// Proves a card.
///
/// # Errors
/// Where the card is of a kind that cannot be proved, or too complex.
fn proved(card: &Card) -> Result<Proved, String> {
    match kinds::proof(&card.body) {
        Some(proof) => proof.prove(),
        None => {
            let (id, kind) = (&card.key.card, card.kind().word());
            Err(format!("`{id}` is a {kind} card; only a sequence or a line-up can be proved"))
        }
    }
}
