//! `bedplate class faults`: what learners reported as wrong in cards, card by card.

use std::process::ExitCode;

use serde_json::json;

use super::open::class;
use crate::cli::out::{self, cannot};
use crate::cli::say::labelled;
use crate::cli::times::time;
use crate::domain::roster::{HandedFault, LearnerRecord};

/// Prints the faults, in order of card and time.
pub(super) fn run(name: &str, is_json: bool) -> Result<ExitCode, ExitCode> {
    let record = class(name)?.record().map_err(cannot)?;
    let mut faults: Vec<(&HandedFault, &LearnerRecord)> =
        record.learners.iter().flat_map(|learner| learner.faults.iter().map(move |fault| (fault, learner))).collect();
    faults.sort_by(|a, b| (&a.0.card, a.0.at, &a.0.note).cmp(&(&b.0.card, b.0.at, &b.0.note)));
    if is_json {
        let rows = faults.iter().map(|(fault, learner)| {
            json!({ "card": fault.card, "at": time(fault.at), "note": fault.note, "learner": learner.name })
        });
        out::line(format_args!("{:#}", json!({ "class": record.class.name, "faults": rows.collect::<Vec<_>>() })))?;
        return Ok(ExitCode::SUCCESS);
    }
    if faults.is_empty() {
        out::line(format_args!("No learner of this class has reported a fault."))?;
    }
    for (fault, learner) in faults {
        let note = if fault.note.trim().is_empty() { "(no words)" } else { fault.note.as_str() };
        out::line(format_args!(
            "{}\n{}",
            fault.card,
            labelled("  ", &format!("{note} ({}, {})", learner.name, time(fault.at)), 2)
        ))?;
    }
    Ok(ExitCode::SUCCESS)
}
