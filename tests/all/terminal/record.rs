//! Two thousand calls of the command line as they were answered before the house was rebuilt inside, over all bundled decks
//! and all annotated bad ones: `check --json`, `prove --json` and `try`. A change that is not meant to change what is
//! answered must give byte for byte the same.
//!
//! The answers are our own (`tests/reference/record/calls.jsonl`): right and wrong figures, orders and settings, statements
//! and longer answers in a learner's words. Where a deck or a rule of marking changes by intent, look at what is listed, then
//! have the record written anew:
//!
//!     RECORD=1 cargo test --test all terminal::record::

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::PathBuf;
use std::sync::Arc;

use bedplate::cli::{check, prove, try_card};
use bedplate::deck::{Reading, Severity, read_deck};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use crate::support::bundled;

/// One call and what came of it.
#[derive(Serialize, Deserialize)]
struct Call {
    /// `check`, the deck; `prove`, the deck, the card; `try`, the deck, the card, the answer.
    call: Vec<String>,
    /// The exit code: 0, or 1 for a deck with errors, or 2 for a call that could not be carried out.
    exit: u8,
    /// What the marking came to, where there was one: to see at a glance what has changed.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    outcome: Option<String>,
    /// The first sixteen hexadecimal digits of SHA-256 over all that is printed.
    sha: String,
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Exit code, and all that the command prints.
fn answer(reading: &Reading, call: &[String]) -> (u8, String) {
    let carried_out = |result: Result<String, String>| match result {
        Ok(text) => (0, text),
        Err(message) => (2, message),
    };
    match call {
        [name, _, _] if name == "check" => {
            let has_errors = reading.problems.iter().any(|problem| problem.severity == Severity::Error);
            (if reading.readable { u8::from(has_errors) } else { 2 }, check::json_text(reading))
        }
        [name, _, card, _] if name == "prove" => carried_out(prove::printed(reading, card, true)),
        [name, _, card, answer] if name == "try" => carried_out(try_card::printed(reading, card, answer)),
        _ => panic!("no such call: {call:?}"),
    }
}

fn outcome(printed: &str) -> Option<String> {
    let marking: serde_json::Value = serde_json::from_str(printed).ok()?;
    Some(marking.get("outcome")?.as_str()?.to_owned())
}

fn sha(text: &str) -> String {
    Sha256::digest(text).iter().take(8).fold(String::new(), |mut hex, byte| {
        let _ = write!(hex, "{byte:02x}");
        hex
    })
}

#[test]
fn two_thousand_calls_are_answered_as_before() {
    let file = root().join("tests/reference/record/calls.jsonl");
    let text = std::fs::read_to_string(&file).expect("the record is where this test looks");
    let before: Vec<Call> = text.lines().map(|line| serde_json::from_str(line).expect("a line is a call")).collect();
    assert!(before.len() >= 2_000, "{}", before.len());
    let mut readings: BTreeMap<&str, Arc<Reading>> = BTreeMap::new();
    let (mut now, mut changed) = (String::new(), Vec::new());
    for kept in &before {
        let deck = kept.call[1].as_str();
        let reading = match deck.strip_prefix("decks/") {
            Some(id) => bundled::reading(id),
            None => readings.entry(deck).or_insert_with(|| Arc::new(read_deck(&root().join(deck)))),
        };
        let (exit, printed) = answer(reading, &kept.call);
        let call = Call { call: kept.call.clone(), exit, outcome: outcome(&printed), sha: sha(&printed) };
        if call.exit != kept.exit || call.sha != kept.sha {
            changed.push(format!(
                "{}: {} {:?} was {} {:?}\n{printed}",
                call.call.join(" "),
                exit,
                call.outcome,
                kept.exit,
                kept.outcome
            ));
        }
        now += &serde_json::to_string(&call).expect("a call can be written");
        now.push('\n');
    }
    if std::env::var_os("RECORD").is_some() {
        std::fs::write(&file, now).expect("the record can be written");
    }
    let first: Vec<String> = changed.iter().take(3).cloned().collect();
    assert!(
        changed.is_empty(),
        "{} calls of {} are answered otherwise; the first:\n{}",
        changed.len(),
        before.len(),
        first.join("\n")
    );
}
