//! `bedplate prove DECK CARD [--json]`: what the engine knows of a sequence or a line-up before anyone answers it.
//!
//! Exit codes: 0 proved, whether it works or not; 2 an error of the call, told on standard error. A card that has
//! errors is proved too where all of it could be read: that it does not work is what one wants to look into.

use std::path::Path;
use std::process::ExitCode;

use serde::Serialize;

use super::out::{self, cannot};
use super::say::{labelled, printable};
use super::try_card;
use crate::deck::read_deck;
use crate::domain::answer::LinedUp;
use crate::domain::card::{Body, Card};
use crate::domain::piping::{self, Network};
use crate::domain::plant::{self, Procedure};

/// What is printed with `--json`.
#[derive(Debug, Serialize)]
#[serde(untagged)]
pub enum Proved {
    /// Of a sequence.
    Sequence(ProvedSequence),
    /// Of a line-up.
    Lineup(ProvedLineup),
}

/// What is known of a sequence. Steps are meant by key.
#[derive(Debug, Serialize)]
pub struct ProvedSequence {
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

/// What is known of a line-up. Nodes are meant by key.
#[derive(Debug, Serialize)]
pub struct ProvedLineup {
    /// Some setting meets every demand.
    pub works: bool,
    /// How many settings do, in decimal; none beyond 20 nodes that can be turned.
    pub settings: Option<String>,
    /// One of them with the fewest open, in the form of an answer.
    pub least_open: Option<LinedUp>,
    /// Valves that stand open in every one of them.
    pub needed_open: Vec<String>,
    /// Valves that stand shut in every one of them.
    pub needed_shut: Vec<String>,
}

/// Proves the card `card` of the deck in the folder `deck` and prints what is known, as text or as JSON.
pub fn run(deck: &Path, card: &str, json: bool) -> ExitCode {
    let reading = read_deck(deck);
    let unsound = reading.unsound.iter().find(|c| c.key.card == card || c.key.to_string() == card);
    let found = match (try_card::find_card(&reading, card), unsound) {
        (Ok(card), _) | (Err(_), Some(card)) => card,
        (Err(message), None) => return cannot(message),
    };
    let (proved, text) = match proved(found) {
        Ok(proved) => proved,
        Err(message) => return cannot(message),
    };
    let text = if json {
        match serde_json::to_string_pretty(&proved) {
            Ok(text) => text + "\n",
            Err(error) => return cannot(format!("the proof cannot be written as JSON: {error}")),
        }
    } else {
        text
    };
    out::ended(out::all(text.as_bytes()), ExitCode::SUCCESS)
}

/// Proves a card: what is known, and the same as text.
///
/// # Errors
/// Where the card is of a kind that cannot be proved, or too complex.
pub fn proved(card: &Card) -> Result<(Proved, String), String> {
    match &card.body {
        Body::Sequence(procedure) => {
            let proved = sequence(procedure)?;
            let text = sequence_text(procedure, &proved);
            Ok((Proved::Sequence(proved), text))
        }
        Body::Lineup(network) => {
            let proved = lineup(network)?;
            let text = lineup_text(network, &proved);
            Ok((Proved::Lineup(proved), text))
        }
        _ => {
            let (id, kind) = (&card.key.card, card.kind().word());
            Err(format!("`{id}` is a {kind} card; only a sequence or a line-up can be proved"))
        }
    }
}

fn sequence(procedure: &Procedure) -> Result<ProvedSequence, String> {
    let proof = plant::prove(procedure).map_err(|error| error.to_string())?;
    let keys = |steps: &[usize]| steps.iter().map(|step| procedure.steps[*step].key.clone()).collect::<Vec<_>>();
    Ok(ProvedSequence {
        works: proof.works,
        orders: proof.orders.map(|orders| orders.to_string()),
        one: proof.one.as_deref().map(keys),
        needed: keys(&proof.needed),
        optional: keys(&proof.optional),
        traps: keys(&proof.traps),
    })
}

fn lineup(network: &Network) -> Result<ProvedLineup, String> {
    let proof = piping::prove(network).map_err(|error| error.to_string())?;
    let keys = |nodes: &[usize]| nodes.iter().map(|node| network.nodes[*node].key.clone()).collect::<Vec<_>>();
    Ok(ProvedLineup {
        works: proof.works,
        settings: proof.settings.map(|settings| settings.to_string()),
        least_open: proof.least_open.as_ref().map(|setting| network.named_setting(setting)),
        needed_open: keys(&proof.needed_open),
        needed_shut: keys(&proof.needed_shut),
    })
}

fn sequence_text(procedure: &Procedure, proved: &ProvedSequence) -> String {
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
        lines.push(labelled(&format!("{word}:"), &listed(keys), 10));
    }
    lines.join("\n") + "\n"
}

fn lineup_text(network: &Network, proved: &ProvedLineup) -> String {
    let mut lines = Vec::new();
    lines.push(match (&proved.works, proved.settings.as_deref()) {
        (false, _) => "No setting of the valves meets every demand.".to_owned(),
        (true, None) => "It works. There are too many valves to count the settings.".to_owned(),
        (true, Some("1")) => "It works. One setting meets every demand.".to_owned(),
        (true, Some(settings)) => format!("It works. {settings} settings meet every demand."),
    });
    let name = |key: &String| network.node_of(key).map_or("", |node| network.nodes[node].name.as_str());
    if let Some(least) = &proved.least_open {
        lines.push("One with the fewest open:".to_owned());
        let open = least.open.iter().map(|key| (key, "open".to_owned()));
        let ways = least.ways.iter().map(|(key, way)| (key, format!("to {}", name(way))));
        let set: Vec<String> = open
            .chain(ways)
            .map(|(key, how)| labelled("  ", &format!("{}: {}, {how}", printable(key), name(key)), 4))
            .collect();
        if set.is_empty() {
            lines.push("  everything shut".to_owned());
        }
        lines.extend(set);
    }
    if proved.works {
        lines.push(labelled("Always open:", &listed(&proved.needed_open), 14));
        lines.push(labelled("Always shut:", &listed(&proved.needed_shut), 14));
    }
    lines.join("\n") + "\n"
}

fn listed(keys: &[String]) -> String {
    if keys.is_empty() { "none".to_owned() } else { keys.join(", ") }
}
