//! `bedplate export`: a learner's records as JSON.

use std::path::PathBuf;
use std::process::ExitCode;

use serde::Serialize;

use crate::app::profile::opening::worth_saying;
use crate::cli::out::{self, cannot};
use crate::cli::profile;
use crate::domain::attempt::Attempt;
use crate::store::{ListedAttempt, OpenOptions, Store};

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
    let setup = match profile::setup(dir, profile::system_clock()) {
        Ok(setup) => setup,
        Err(error) => return cannot(error),
    };
    if !setup.dir.is_dir() {
        return cannot(format!("there is no profile in {}", setup.dir.display()));
    }
    let now = (setup.clock)();
    let store = match Store::open_or_read(OpenOptions { dir: setup.dir, now, wake: setup.wake }) {
        Ok(opened) => opened.store,
        Err(error) => return cannot(error),
    };
    let code = print(&store, json);
    // Answers that cannot be read, a backup that could not be made.
    let notices: Vec<String> = store.close().iter().filter(|n| worth_saying(n)).map(ToString::to_string).collect();
    profile::tell(&notices);
    code
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
