//! Annotated bad decks: each folder of `tests/decks` says in comment lines such as `#! error unknown-key 3:1`
//! (severity, code, line and column) what `check` must find in that file, no more and no less.
//! A folder is named after the code it is for; `code--more` is a further one.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use bedplate::deck::{checks, read_deck};

use super::hostile::GENERATED;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/decks")
}

fn folders() -> Vec<PathBuf> {
    let mut folders: Vec<PathBuf> =
        fs::read_dir(root()).expect("tests/decks is there").map(|entry| entry.expect("readable").path()).collect();
    folders.sort();
    assert!(folders.len() > 40, "the decks are where this test looks");
    folders
}

fn code_of(folder: &Path) -> String {
    let name = folder.file_name().expect("a folder has a name").to_string_lossy().into_owned();
    name.split("--").next().unwrap_or_default().to_owned()
}

/// `file severity code line:column` of every annotation in the folder.
fn expected(folder: &Path, prefix: &str, lines: &mut Vec<String>) {
    for entry in fs::read_dir(folder).expect("readable") {
        let path = entry.expect("readable").path();
        let name = format!("{prefix}{}", path.file_name().expect("a name").to_string_lossy());
        if path.is_dir() {
            expected(&path, &format!("{name}/"), lines);
        } else if name.ends_with(".toml") {
            let text = fs::read_to_string(&path).expect("annotated decks are UTF-8");
            lines.extend(text.lines().filter_map(|line| line.strip_prefix("#! ")).map(|note| format!("{name} {note}")));
        }
    }
}

#[test]
fn every_problem_is_found_at_its_place_and_no_other() {
    let mut wrong = Vec::new();
    for folder in folders() {
        let mut expected_lines = Vec::new();
        expected(&folder, "", &mut expected_lines);
        let reading = read_deck(&folder);
        let mut found: Vec<String> = reading
            .problems
            .iter()
            .map(|p| format!("{} {} {} {}:{}", p.file, p.severity.word(), p.code, p.line, p.column))
            .collect();
        expected_lines.sort();
        found.sort();
        if expected_lines != found {
            let missing: Vec<&String> = expected_lines.iter().filter(|line| !found.contains(line)).collect();
            let extra: Vec<&String> = found.iter().filter(|line| !expected_lines.contains(line)).collect();
            wrong.push(format!("{}\n  missing: {missing:#?}\n  extra: {extra:#?}", folder.display()));
        }
        assert!(reading.readable, "{}", folder.display());
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_code_has_a_bad_deck() {
    let shown: BTreeSet<String> = folders()
        .iter()
        .filter(|folder| {
            let mut lines = Vec::new();
            expected(folder, "", &mut lines);
            let code = code_of(folder);
            lines.iter().any(|line| line.split(' ').nth(2) == Some(&code))
        })
        .map(|folder| code_of(folder))
        .chain(GENERATED.iter().map(|(code, _)| (*code).to_owned()))
        .collect();
    let codes: BTreeSet<String> = checks::all().iter().map(|check| check.code.to_owned()).collect();
    assert_eq!(shown, codes, "codes that a bad deck shows, and codes of the tables");
    let in_order: Vec<&str> = checks::all().iter().map(|check| check.code).collect();
    assert!(in_order.is_sorted_by(|a, b| a < b), "no code stands twice, and they come in their order: {in_order:?}");
}

/// Codes whose fault keeps the example itself from being TOML, or whose example is a drawing.
const NO_TOML: &[&str] =
    &["curly-quotes", "lettered-drawing", "not-toml", "shared-part-name", "telling-desc", "undescribed-part"];

#[test]
fn every_code_says_why_and_how_to_mend_it_with_an_example() {
    for check in checks::all() {
        let code = check.code;
        assert!(code.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-'), "{code}");
        for (what, text) in [("says", check.says), ("mend", check.mend)] {
            assert!(text.len() > 10 && !text.ends_with('.'), "{code}: {what} is a part of a sentence: {text}");
            assert!(text.starts_with(|c: char| c.is_lowercase()), "{code}: {what} begins small: {text}");
            assert!(!text.contains('|'), "{code}: {what} stands in a table of the manual: {text}");
        }
        let why = check.why;
        assert!(why.starts_with(|c: char| c.is_uppercase() || c == '`'), "{code}: why is whole sentences: {why}");
        assert!(why.ends_with('.') && why.split_whitespace().count() >= 6, "{code}: why says something: {why}");
        assert!(!why.contains('|'), "{code}: why stands in a table of the manual: {why}");
        for sentence in why.split(". ") {
            assert!(sentence.split_whitespace().count() <= 25, "{code}: a long sentence: {sentence}");
        }
        assert!(!check.says.eq_ignore_ascii_case(why.trim_end_matches('.')), "{code}: why repeats what is wrong");
        assert!(check.example.iter().all(|line| line.len() <= 160), "{code}: {:?}", check.example);
        let example = check.example.join("\n");
        let parsed = example.parse::<toml::Table>();
        assert_eq!(parsed.is_err(), NO_TOML.contains(&code), "{code}: {parsed:?} of {example}");
    }
}

#[test]
fn every_problem_says_how_to_mend_it_in_seemly_words() {
    for folder in folders() {
        for problem in read_deck(&folder).problems {
            assert!(!problem.mend.is_empty(), "{problem:?}");
            for text in [&problem.message, &problem.mend] {
                assert!(!text.ends_with('.') || text.ends_with("..."), "no full stop at the end: {text}");
                assert!(text.chars().all(|c| !c.is_control()), "{text:?}");
            }
        }
    }
}

#[test]
fn problems_come_in_the_order_of_file_line_and_column() {
    for folder in folders() {
        let reading = read_deck(&folder);
        let places: Vec<(&str, usize, usize)> =
            reading.problems.iter().map(|p| (p.file.as_str(), p.line, p.column)).collect();
        assert!(places.is_sorted(), "{}: {places:?}", folder.display());
    }
}

#[test]
fn the_deck_holds_the_sound_cards_only() {
    let reading = read_deck(&root().join("not-toml--several"));
    let ids: Vec<String> =
        reading.deck.expect("the head is sound").cards.iter().map(|card| card.key.to_string()).collect();
    assert_eq!(ids, ["marram-light/sound"]);
    assert_eq!(reading.counts.get("recall"), Some(&5));

    let reading = read_deck(&root().join("sound"));
    let deck = reading.deck.expect("a sound deck");
    assert_eq!(deck.cards.len(), 4);
    // Files in the order of their names: `cards.toml` before `cards/more.toml`.
    assert_eq!(deck.cards[3].key.card, "more");
    assert_eq!(reading.counts.get("recall"), Some(&2));
    assert_eq!(reading.counts.len(), 3);
}
