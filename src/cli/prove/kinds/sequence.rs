//! Which orders of a sequence's steps work.

use serde::Serialize;

use super::proof::{Proof, Proved, listed};
use crate::cli::say::{labelled, printable};
use crate::domain::plant::{self, Procedure};

impl Proof for Procedure {
    fn prove(&self) -> Result<Proved, String> {
        let known = sequence(self)?;
        Ok(Proved::of(&known, sequence_text(self, &known)))
    }
}

/// What is known of a sequence. Steps are meant by key.
#[derive(Debug, Serialize)]
struct ProvedSequence {
    /// Some order of some of the steps works.
    works: bool,
    /// How many orders of all steps that are no traps work, in decimal; none beyond 20 such steps.
    orders: Option<String>,
    /// A working order of fewest steps.
    one: Option<Vec<String>>,
    /// Steps without which no order works.
    needed: Vec<String>,
    /// The other steps that are no traps.
    optional: Vec<String>,
    /// Never part of a right answer.
    traps: Vec<String>,
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
