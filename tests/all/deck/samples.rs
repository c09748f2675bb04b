//! Sample answers: what `try` makes of an answer is what a sample may expect of it, whatever the kind of card; and what is
//! told of a sample that comes out otherwise.

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;
use bedplate::cli::try_card;
use bedplate::deck::{Problem, read_deck, read_deck_to_ask};
use proptest::prelude::*;
use serde_json::{Map, Value, json};

fn deck(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/decks").join(name)
}

/// The messages about samples of an annotated deck, each with its line.
fn told(name: &str) -> Vec<(usize, String)> {
    let problems = read_deck(&deck(name)).problems.into_iter();
    problems.filter(|p| p.code.contains("sample")).map(|p| (p.line, p.message)).collect()
}

#[test]
fn what_was_found_instead_is_told() {
    let messages: Vec<String> = told("sample-differs").into_iter().map(|(_, message)| message).collect();
    let expected = [
        "the sample is marked otherwise: point 1 was taken for denied by \"shut the full tank first\", not for said",
        "the sample is marked otherwise: point 1 was not taken for denied",
        "the sample is marked otherwise: point 1 was taken for said by \"Open the next tank first\", not for denied; the \
         outcome was `answered`, not `missed` (All two points were said)",
        "the sample is marked otherwise: the outcome was `missed`, not `answered` (31.5 bar is not 30 bar, within 1 bar)",
        "the sample is marked otherwise: no slip was found, not `unit`",
    ];
    for (found, expected) in messages.iter().zip(expected) {
        assert_eq!(found, expected);
    }
    assert_eq!(messages.len(), 11, "{messages:#?}");
}

#[test]
fn a_card_with_a_faulty_sample_is_asked_all_the_same() {
    for name in ["sample-differs", "sample-answer", "sample-point", "unknown-slip"] {
        let checked = read_deck(&deck(name));
        let cards: usize = checked.counts.values().sum();
        assert_eq!(checked.deck.expect("a deck").cards.len(), cards, "{name}");
        let asked = read_deck_to_ask(&deck(name));
        assert!(asked.problems.iter().all(|p| !p.code.contains("sample")), "{name}");
        assert_eq!(asked.deck.expect("a deck").cards.len(), cards, "{name}");
    }
    let marked = Command::cargo_bin("bedplate")
        .expect("the program is built")
        .arg("try")
        .arg(deck("sample-differs"))
        .args(["tanks", "--answer", r#"{"text": "Open the next tank first."}"#])
        .output()
        .expect("it runs");
    assert_eq!(marked.status.code(), Some(0));
}

#[test]
fn the_samples_are_read_as_data_of_their_card() {
    let cards = read_deck(&deck("sound--samples")).deck.expect("a deck").cards;
    let counts: Vec<usize> = cards.iter().map(|card| card.samples.len()).collect();
    assert_eq!(counts, [5, 4, 2, 3, 3, 3, 3]);
    let second = &cards[0].samples[1];
    assert_eq!((second.expected.says.as_slice(), second.expected.denies.as_slice()), (&[2][..], &[1][..]));
    assert_eq!(cards[0].samples[2].seconds, Some(20.0));
    // Another question made of the card has none of its samples.
    assert!(cards[0].saying(Vec::new()).samples.is_empty());
}

#[test]
fn check_counts_a_sample_that_differs_as_an_error() {
    let output = Command::cargo_bin("bedplate")
        .expect("the program is built")
        .args(["check", "--json"])
        .arg(deck("sample-differs"))
        .output()
        .expect("it runs");
    assert_eq!(output.status.code(), Some(1));
    let value: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let first = &value["problems"][0];
    assert_eq!((&first["code"], &first["severity"]), (&json!("sample-differs"), &json!("error")));
    assert_eq!((&first["file"], &first["line"]), (&json!("cards.toml"), &json!(13)));
}

#[test]
fn more_samples_than_a_card_may_have_are_not_read() {
    let samples: String = (0..=100).map(|n| format!("{{ text = \"{n} bar\", outcome = \"answered\" }}, ")).collect();
    let card = format!(
        "[[figure]]\nid = \"full\"\ntopic = \"A-III/1.1.4\"\nask = \"How full?\"\nvalue = \"30 bar\"\nwithin = \"200 bar\"\n\
         because = \"So.\"\nsources = [\"practice\"]\nseconds = 8\nsamples = [{samples}]\n"
    );
    let codes: Vec<&str> = found(&card).iter().map(|problem| problem.code).collect();
    assert_eq!(codes, ["too-many"]);
}

/// All that is wrong with these cards, in a deck of their own with the drawing of the sound one.
fn found(cards: &str) -> Vec<Problem> {
    let folder = tempfile::tempdir().expect("a folder");
    fs::create_dir(folder.path().join("pictures")).expect("a folder");
    for name in ["deck.toml", "pictures/tank.svg"] {
        fs::copy(deck("sound--samples").join(name), folder.path().join(name)).expect("copied");
    }
    fs::write(folder.path().join("cards.toml"), cards).expect("written");
    read_deck(folder.path()).problems
}

/// The cards of the sound deck without their samples.
fn bare_cards() -> String {
    let text = fs::read_to_string(deck("sound--samples").join("cards.toml")).expect("readable");
    let mut bare = String::new();
    let mut is_sample = false;
    for line in text.lines() {
        is_sample |= line.starts_with("samples = [") || line.contains(".samples]]");
        is_sample &= !line.is_empty();
        if !is_sample {
            bare += line;
            bare.push('\n');
        }
    }
    bare
}

/// Words of which answers are made, right and wrong ones.
const WORDS: &[&str] = &[
    "open",
    "shut",
    "the next tank",
    "the full tank",
    "first",
    "then",
    "before",
    "call the barge",
    "never",
    "not",
    "tell",
    "bunker barge",
    "I",
    "do not",
    "after",
    ".",
    ",",
];
const FIGURES: &[&str] =
    &["30 bar", "3000 kPa", "30", "300 bar", "29.5 bar", "30 degC", "3 MPa", "about 31 bar", "full", "10 or 12 bar"];
const POWERS: &[&str] = &["5.586 kW", "5.45 kW", "5586 W", "5.586", "55.9 kW", "7 bar", "1 W"];

fn some_of(words: &'static [&'static str], most: usize) -> impl Strategy<Value = Vec<&'static str>> {
    prop::collection::vec(prop::sample::select(words), 0..most)
}

/// A kind's word in deck files, its card, and an answer to it.
fn answers() -> impl Strategy<Value = (&'static str, &'static str, Value)> {
    let links = Just(vec![1, 2, 3, 4]).prop_shuffle();
    let steps = Just(vec!["cool", "charge", "backfeed"]).prop_shuffle();
    let keep = || 0_usize..5;
    let way = prop::sample::select(&["engine", "drain"][..]);
    prop_oneof![
        some_of(WORDS, 12).prop_map(|words| ("recall", "tanks", json!({ "text": words.join(" ") }))),
        prop::sample::subsequence(vec![1, 2], 0..=2).prop_map(|said| ("recall", "tanks", json!({ "said": said }))),
        prop::sample::select(FIGURES).prop_map(|text| ("figure", "full-air", json!({ "text": text }))),
        (links, keep()).prop_map(|(links, n)| ("why", "chain", json!({ "links": links[..n.min(4)] }))),
        (steps, keep()).prop_map(|(steps, n)| ("sequence", "charge", json!({ "steps": steps[..n.min(3)] }))),
        (0_u64..1_000_000, prop::sample::select(POWERS)).prop_map(|(seed, text)| (
            "working",
            "lift",
            json!({ "seed": seed, "text": text })
        )),
        prop::sample::select(POWERS).prop_map(|text| {
            let givens = json!({ "flow": "100 m3/h", "head": "20 m" });
            ("working", "lift", json!({ "givens": givens, "text": text }))
        }),
        (any::<bool>(), way).prop_map(|(is_open, way)| {
            let open = if is_open { vec!["qcv"] } else { Vec::new() };
            ("lineup", "fuel", json!({ "open": open, "ways": { "changeover": way } }))
        }),
        (-20.0..220.0, -20.0..120.0).prop_map(|(x, y)| ("point", "find-drain", json!({ "at": [x, y] }))),
        prop::sample::select(&["tank", "drain"][..]).prop_map(|part| ("point", "find-drain", json!({ "part": part }))),
    ]
}

/// All that a marking says that a sample may expect.
fn expectations(marking: &Value) -> Map<String, Value> {
    let mut expected = Map::new();
    expected.insert("outcome".to_owned(), marking["outcome"].clone());
    if let Some(points) = marking["points"].as_array() {
        let that = |key: &str| {
            let numbers = points.iter().enumerate().filter(|(_, point)| point[key] == true);
            numbers.map(|(at, _)| at + 1).collect::<Vec<_>>()
        };
        expected.insert("says".to_owned(), json!(that("said")));
        expected.insert("denies".to_owned(), json!(that("contradicted")));
    }
    if let Some(kind) = marking["slip"].get("kind") {
        expected.insert("slip".to_owned(), kind.clone());
    }
    expected
}

/// A sample as a table of its own behind the cards.
fn written(kind: &str, answer: &Value, expected: &Map<String, Value>) -> String {
    let mut text = format!("\n[[{kind}.samples]]\n");
    for (key, value) in answer.as_object().into_iter().flatten().chain(expected) {
        text += &format!("{key} = {}\n", toml::Value::try_from(value).expect("TOML has such a value"));
    }
    text
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_sample_that_expects_what_try_gives_never_differs_and_another_always(
        (kind, card, mut answer) in answers(),
        seconds in prop::option::of(0_u32..200),
        other in 1_usize..4,
    ) {
        if let Some(seconds) = seconds {
            answer["seconds"] = json!(seconds);
        }
        let bare = bare_cards();
        let asked = read_deck_to_ask(&deck("sound--samples"));
        let marking: Value = serde_json::from_str(&try_card::printed(&asked, card, &answer.to_string()).expect("marked"))
            .expect("JSON");
        let mut expected = expectations(&marking);
        let problems = found(&(bare.clone() + &written(kind, &answer, &expected)));
        prop_assert!(problems.is_empty(), "{problems:?}");
        // Any other outcome is told, at the header of the sample.
        let outcomes = ["missed", "prompted", "answered", "fluent"];
        let at = outcomes.iter().position(|outcome| marking["outcome"] == **outcome).expect("one of the four");
        expected.insert("outcome".to_owned(), json!(outcomes[(at + other) % 4]));
        let problems = found(&(bare.clone() + &written(kind, &answer, &expected)));
        let told: Vec<(&str, usize)> = problems.iter().map(|problem| (problem.code, problem.line)).collect();
        prop_assert_eq!(told, [("sample-differs", bare.lines().count() + 2)]);
    }
}
