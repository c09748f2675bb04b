//! The instructor's manual, `decks/FORMAT.md`: every sample in it is checked, its table of messages is that of the
//! program, and its list of units too.
//!
//! A sample's fence says what it is: `toml deck.toml` is the deck file of the samples after it, `toml cards` is a
//! card file with nothing to find in it, and `toml cards gives error unknown-key 5:38` has just these problems.
//! `svg pictures/fuel.svg` is that file of the deck of the samples after it.

use std::fs;
use std::path::Path;

use bedplate::deck::{checks, competences, read_deck};
use bedplate::domain::quantity::{expression, known_units};

fn manual() -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("decks/FORMAT.md")).expect("the manual is there")
}

/// A fenced sample: what its fence says, its line and its text.
struct Sample {
    fence: String,
    line: usize,
    text: String,
}

fn samples(manual: &str) -> Vec<Sample> {
    let mut samples: Vec<Sample> = Vec::new();
    let mut is_open = false;
    for (n, line) in manual.lines().enumerate() {
        match line.strip_prefix("```") {
            Some(fence) if !is_open => {
                is_open = true;
                samples.push(Sample { fence: fence.to_owned(), line: n + 1, text: String::new() });
            }
            Some(_) => is_open = false,
            None if is_open => {
                let sample = samples.last_mut().expect("a sample is open");
                sample.text += line;
                sample.text += "\n";
            }
            None => {}
        }
    }
    samples
}

#[test]
fn every_sample_does_what_its_fence_says() {
    let manual = manual();
    let mut deck_file = None;
    let mut drawings = Vec::new();
    let mut kinds = std::collections::BTreeSet::new();
    for sample in samples(&manual) {
        let place = format!("decks/FORMAT.md:{} (```{})", sample.line, sample.fence);
        if sample.fence == "toml deck.toml" {
            deck_file = Some(sample.text);
            continue;
        }
        if let Some(name) = sample.fence.strip_prefix("svg ") {
            drawings.push((name.to_owned(), sample.text));
            continue;
        }
        let rest = sample.fence.strip_prefix("toml cards").unwrap_or_else(|| panic!("{place}: an unknown fence"));
        let mut expected: Vec<&str> =
            rest.strip_prefix(" gives ").map_or(Vec::new(), |gives| gives.split(", ").collect());
        let folder = tempfile::tempdir().expect("a folder");
        let head = deck_file.as_ref().unwrap_or_else(|| panic!("{place}: no deck.toml before it"));
        fs::write(folder.path().join("deck.toml"), head).expect("written");
        fs::write(folder.path().join("cards.toml"), &sample.text).expect("written");
        fs::create_dir(folder.path().join("pictures")).expect("a folder");
        for (name, text) in &drawings {
            fs::write(folder.path().join(name), text).expect("written");
        }
        let reading = read_deck(folder.path());
        let mut found: Vec<String> = reading
            .problems
            .iter()
            // A sample need not cite every source of the manual's deck.
            .filter(|problem| problem.code != "unused-source")
            .map(|p| format!("{} {} {}:{}", p.severity.word(), p.code, p.line, p.column))
            .collect();
        expected.sort_unstable();
        found.sort();
        assert_eq!(found, expected, "{place}");
        if expected.is_empty() {
            let deck = reading.deck.expect("a deck");
            assert!(!deck.cards.is_empty(), "{place}");
            kinds.extend(deck.cards.iter().map(|card| card.kind().word()));
        }
    }
    assert_eq!(
        kinds.into_iter().collect::<Vec<_>>(),
        ["figure", "line-up", "point", "recall", "sequence", "why", "working"],
        "a sample of each kind"
    );
}

/// What stands between two marks.
fn between<'a>(manual: &'a str, begin: &str, end: &str) -> &'a str {
    let after = manual.split_once(begin).unwrap_or_else(|| panic!("no {begin}")).1;
    after.split_once(end).unwrap_or_else(|| panic!("no {end}")).0.trim()
}

#[test]
fn the_table_of_messages_is_that_of_the_program() {
    let mut table =
        "| code | severity | what is wrong | why it matters | how to mend it |\n|---|---|---|---|---|\n".to_owned();
    for check in checks::all() {
        let (code, severity) = (check.code, check.severity.word());
        table += &format!("| `{code}` | {severity} | {} | {} | {} |\n", check.says, check.why, check.mend);
    }
    let manual = manual();
    let found =
        between(&manual, "<!-- diagnostics: this table is kept true by a test -->", "<!-- end of diagnostics -->");
    assert!(found == table.trim(), "put this table between the marks of decks/FORMAT.md:\n{table}");
}

#[test]
fn the_list_of_units_is_that_of_the_program() {
    let mut list = "The units that are known:".to_owned();
    let mut length = list.len();
    for unit in known_units() {
        let item = format!(" `{unit}`");
        if length + item.len() > 115 {
            list += "\n";
            length = 0;
            list += item.trim_start();
        } else {
            list += &item;
        }
        length += item.len();
    }
    let manual = manual();
    let found = between(&manual, "<!-- units: this list is kept true by a test -->", "<!-- end of units -->");
    assert!(found == list, "put this list between the marks of decks/FORMAT.md:\n{list}");
}

#[test]
fn the_table_of_competences_is_that_of_the_program() {
    let mut table = "| topic | competence | function | table |\n|---|---|---|---|\n".to_owned();
    for of in &competences().tables {
        for function in &of.functions {
            for competence in &function.competences {
                table +=
                    &format!("| `{}` | {} | {} | {} |\n", competence.key, competence.title, function.title, of.title);
            }
        }
    }
    let manual = manual();
    let found =
        between(&manual, "<!-- competences: this table is kept true by a test -->", "<!-- end of competences -->");
    assert!(found == table.trim(), "put this table between the marks of decks/FORMAT.md:\n{table}");
}

#[test]
fn the_table_of_functions_is_that_of_the_program() {
    let mut table = "| function | what it gives |\n|---|---|\n".to_owned();
    for (written, gives) in expression::functions() {
        table += &format!("| `{written}` | {gives} |\n");
    }
    let manual = manual();
    let found = between(&manual, "<!-- functions: this table is kept true by a test -->", "<!-- end of functions -->");
    assert!(found == table.trim(), "put this table between the marks of decks/FORMAT.md:\n{table}");
}
