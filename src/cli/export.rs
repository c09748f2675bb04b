//! `bedplate export`: a learner's records as JSON.

use std::path::PathBuf;
use std::process::ExitCode;

use serde::Serialize;

use crate::app::profile::opening::worth_saying;
use crate::cli::out::{self, cannot};
use crate::cli::profile;
use crate::cli::say::printable;
use crate::domain::answer::Given;
use crate::domain::attempt::Attempt;
use crate::domain::report::CardReport;
use crate::store::{ListedAttempt, Notice, OpenOptions, Opened, Store, reports_to_json};

/// One line of the export.
#[derive(Serialize)]
struct Line<'a> {
    #[serde(flatten)]
    attempt: &'a Attempt,
    /// Whether the answer was taken back.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    voided: bool,
}

/// Prints every attempt that was ever accepted, oldest first; what was taken back says so: with `json` one JSON object a line, otherwise a line of words.
pub fn attempts(dir: Option<PathBuf>, json: bool) -> ExitCode {
    with_store(dir, |opened| print(&opened.store, json))
}

/// Prints what the learner says is wrong with cards, oldest first: with `json` one object, which the writing page of a deck
/// takes in, otherwise in words.
pub fn faults(dir: Option<PathBuf>, json: bool) -> ExitCode {
    with_store(dir, |opened| {
        let reports = match opened.store.reports(&opened.faults) {
            Ok(reports) => reports,
            Err(error) => return cannot(error),
        };
        let text = match json {
            true => match reports_to_json(reports) {
                Ok(text) => text + "\n",
                Err(error) => return cannot(error),
            },
            false => reports.iter().map(in_words).collect(),
        };
        out::ended(out::all(text.as_bytes()), ExitCode::SUCCESS)
    })
}

/// A report in lines of words.
fn in_words(report: &CardReport) -> String {
    let edition = report.edition.map_or_else(String::new, |edition| format!(", edition {edition}"));
    let mut text = format!("{} {}{edition}\n  {}\n", report.at.0, report.card, printable(&report.note));
    if let Some(answer) = &report.answer {
        let given = match &answer.given {
            Given::Text(text) => text.clone(),
            given => serde_json::to_string(given).unwrap_or_default(),
        };
        text += &format!("  answered: {}\n", printable(&given));
    }
    if let Some(marked) = &report.marked {
        text += &format!("  marked {}: {}\n", marked.outcome.word(), printable(&marked.reason));
    }
    text
}

/// Opens a profile to read it, and tells afterwards what there is to say of it.
pub(super) fn with_store(dir: Option<PathBuf>, run: impl FnOnce(&Opened) -> ExitCode) -> ExitCode {
    let setup = match profile::setup(dir, profile::system_clock()) {
        Ok(setup) => setup,
        Err(error) => return cannot(error),
    };
    if !setup.dir.is_dir() {
        return cannot(format!("there is no profile in {}", setup.dir.display()));
    }
    let now = (setup.clock)();
    let opened = match Store::open_or_read(OpenOptions { dir: setup.dir, now, wake: setup.wake }) {
        Ok(opened) => opened,
        Err(error) => return cannot(error),
    };
    let code = run(&opened);
    // Answers that cannot be read, a backup that could not be made.
    tell(&opened.store.close());
    code
}

/// Tells of a store what is worth saying.
pub(super) fn tell(notices: &[Notice]) {
    let notices: Vec<String> = notices.iter().filter(|n| worth_saying(n)).map(ToString::to_string).collect();
    profile::tell(&notices);
}

fn print(store: &Store, json: bool) -> ExitCode {
    let mut after = None;
    loop {
        let page = match store.list_attempts(after.clone(), 1_000).wait() {
            Ok(page) => page,
            Err(error) => return cannot(error),
        };
        let Some(last) = page.last() else { return ExitCode::SUCCESS };
        after = Some(last.attempt.id.clone());
        let mut text = String::new();
        for ListedAttempt { attempt, voided } in &page {
            text += &if json {
                match serde_json::to_string(&Line { attempt, voided: *voided }) {
                    Ok(line) => line,
                    Err(error) => return cannot(error),
                }
            } else {
                let outcome = attempt.final_outcome().word();
                let mark = if *voided { ", taken back" } else { "" };
                format!("{} {} {outcome} {:.0} s{mark}", attempt.at.0, attempt.card, attempt.seconds)
            };
            text.push('\n');
        }
        if let Err(code) = out::all(text.as_bytes()) {
            return code;
        }
    }
}
