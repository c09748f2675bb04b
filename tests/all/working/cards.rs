//! Workings: draws that stay the same, worksheets, questions with their figures, and `try`.

use assert_cmd::Command;
use bedplate::deck::read_deck;
use bedplate::domain::kinds::Body;
use bedplate::domain::quantity::Quantity;
use bedplate::domain::working::{LineResult, Working, ask, draw, evaluate, text};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

fn sound() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/decks/sound--working")
}

fn working() -> Working {
    let deck = read_deck(&sound()).deck.expect("a deck");
    match &deck.cards[0].body {
        Body::Working(working) => working.clone(),
        other => panic!("{other:?}"),
    }
}

fn texts(seed: u64) -> Vec<String> {
    let working = working();
    draw(&working, seed).iter().zip(&working.givens).map(|(figure, given)| text(given, figure)).collect()
}

#[test]
fn a_seed_draws_the_same_figures_for_ever() {
    // Worked out apart from the program (a dozen lines of Python) on 2026-11-26: a seed that was with an
    // attempt must show the same figures in every later version.
    assert_eq!(texts(0), ["9", "330 mm", "350 mm", "18.0 bar", "630 rpm"]);
    assert_eq!(texts(7), ["6", "280 mm", "470 mm", "15.5 bar", "720 rpm"]);
    assert_eq!(texts(u64::MAX), ["9", "390 mm", "380 mm", "14.5 bar", "810 rpm"]);
}

#[test]
fn draws_lie_on_the_steps_and_reach_both_ends() {
    let working = working();
    let mut seen: Vec<Vec<f64>> = vec![Vec::new(); working.givens.len()];
    for seed in 0..2_000 {
        for ((figure, given), seen) in draw(&working, seed).iter().zip(&working.givens).zip(&mut seen) {
            let steps = (figure.number - given.from.number) / given.step.number;
            assert!((steps - steps.round()).abs() < 1e-9, "{figure:?}");
            assert!(figure.number >= given.from.number && figure.number <= given.to.number, "{figure:?}");
            if !seen.contains(&figure.number) {
                seen.push(figure.number);
            }
        }
    }
    let counts: Vec<usize> = seen.iter().map(Vec::len).collect();
    assert_eq!(counts, [5, 13, 14, 13, 11]);
}

#[test]
fn a_question_has_its_figures() {
    let working = working();
    let figures = draw(&working, 7);
    assert_eq!(ask(&working, "{cylinders} of {bore}, {{so}}", &figures), "6 of 280 mm, {so}");
}

fn sheet(lines: &[&str]) -> Vec<LineResult> {
    let givens = [("D", "320 mm"), ("L", "400 mm"), ("p", "16.2 bar"), ("N", "720 rpm"), ("t", "85 degC")];
    let givens: Vec<(String, Quantity)> =
        givens.iter().map(|(name, text)| ((*name).to_owned(), Quantity::parse(text).expect(text))).collect();
    let lines: Vec<String> = lines.iter().map(|line| (*line).to_owned()).collect();
    evaluate(&givens, &lines, Some("kW"))
}

#[test]
fn a_worksheet_is_worked_out_line_by_line() {
    let results = sheet(&["A = π/4 · D²", "V = A · L", "n = N / 2", "", "W = p · V", "P = W · n · 6", "t − 20 °C"]);
    let shown: Vec<String> = results.iter().map(|line| format!("{} {}", line.number, line.unit)).collect();
    assert_eq!(shown, ["0.08042 m2", "0.03217 m3", "360.0 rpm", " ", "52.12 kJ", "1876 kW", "65.00 K"]);
    assert!(results.iter().all(|line| line.error.is_none() && line.note.is_none()), "{results:?}");
    assert_eq!(results[0].name.as_deref(), Some("A"));
    assert_eq!(results[6].name, None);
}

#[test]
fn a_wrong_line_is_told_at_its_place_and_the_others_stand() {
    let results =
        sheet(&["A = π/4 · D² +", "V = A · L", "D = 2 · D", "x = D + p", "two words = 3", "pi = 3", "m = 3 · A"]);
    let told = |at: usize| {
        let error = results[at].error.as_ref().unwrap_or_else(|| panic!("{at}: {:?}", results[at]));
        (error.message.as_str(), error.span.clone())
    };
    assert_eq!(told(0).0, "the expression ends too early");
    assert_eq!(told(1), ("`A` has no value yet", 4..5));
    assert_eq!(results[2].note.as_deref(), Some("`D` takes the place of the given figure."));
    assert_eq!(told(3).1, 4..9);
    assert_eq!(told(4), ("`two words` is no name", 0..9));
    assert_eq!(told(5), ("`pi` has its own meaning", 0..2));
    assert_eq!(told(6).0, "`A` has no value yet");
    // A lone letter that no line gives is a unit, and that is said.
    let results = sheet(&["F = 2 · T"]);
    assert_eq!(results[0].note.as_deref(), Some("`T` is read as the unit T; it has no value above."));
}

/// The marking of an answer, or what the call complains of.
fn tried(answer: &Value) -> Result<Value, String> {
    let output = Command::cargo_bin("bedplate")
        .expect("built")
        .args(["try", &sound().to_string_lossy(), "indicated-power", "--answer", &answer.to_string()])
        .output()
        .expect("run");
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    match output.status.code() {
        Some(0) => Ok(serde_json::from_slice(&output.stdout).expect("JSON")),
        Some(2) => Err(text(&output.stderr)),
        code => panic!("{code:?}: {}", text(&output.stderr)),
    }
}

fn with(text: &str) -> Value {
    let givens = json!({"cylinders": 6, "bore": "320 mm", "stroke": "0.4 m", "pm": "16.2 bar", "speed": "12 Hz"});
    json!({"givens": givens, "text": text})
}

#[test]
fn try_marks_as_the_contract_says() {
    for (text, outcome, slip) in [
        ("1876 kW", "answered", None),
        ("1.88 MW", "answered", None),
        ("1890 kW", "answered", None),
        ("1900 kW", "missed", None),
        ("1876", "prompted", Some("unit")),
        ("18760 kW", "missed", Some("power-of-ten")),
        ("1876 MW", "missed", Some("unit")),
        ("1876 bar", "missed", Some("dimension")),
        ("3752 kW", "missed", Some("deck")),
        ("3.75 MW", "missed", Some("deck")),
        ("3752", "missed", Some("deck")),
        ("no idea", "missed", None),
    ] {
        let marking = tried(&with(text)).expect(text);
        assert_eq!(marking["outcome"], outcome, "{text}: {marking}");
        assert_eq!(marking["slip"]["kind"].as_str(), slip, "{text}: {marking}");
        assert_eq!(marking["kind"], "working");
        assert_eq!(marking["expected"], "1876 kW");
        assert_eq!(marking["lines"][1], json!({"name": "power", "value": "1876 kW"}));
        assert_eq!(marking["givens"]["speed"], "12 Hz");
        let error = &marking["error"];
        assert_eq!(error.is_null(), matches!(slip, Some("dimension")) || text == "no idea", "{text}: {error}");
    }
    let marking = tried(&json!({"seed": 7, "text": "1615 kW", "seconds": 200})).expect("marked");
    assert_eq!(marking["outcome"], "fluent");
    assert_eq!(marking["givens"]["pm"], "15.5 bar");
}

#[test]
fn try_refuses_figures_that_are_not_the_cards() {
    for (answer, says) in [
        (json!({"text": "1876 kW"}), "givens"),
        (json!({"givens": {}, "text": "1876 kW"}), "givens"),
        (json!({"givens": {"bore": "320 mm"}, "text": "1876 kW"}), "`cylinders` is missing"),
        (json!({"seed": 7}), "no `text`"),
        (json!({"seed": -7, "text": "1"}), "`seed`"),
        (json!({"seed": 7, "givens": {}, "text": "1"}), "at once"),
        (json!({"givens": [1], "text": "1"}), "an object"),
        (json!({"seed": 7, "text": "1", "lines": "A = 1"}), "a list of lines"),
    ] {
        let error = tried(&answer).expect_err("refused");
        assert!(error.contains(says), "{answer}: {error}");
    }
    for (name, figure, says) in [
        ("bore", "320 kg", "must be a length"),
        ("bore", "320", "must be a length"),
        ("bore", "wide", "does not begin with a number"),
        ("cylinders", "6 mm", "must be a pure number"),
        ("boer", "320 mm", "`boer` is none of the card's givens"),
    ] {
        let mut answer = with("1876 kW");
        answer["givens"][name] = json!(figure);
        let error = tried(&answer).expect_err("refused");
        assert!(error.contains(says), "{name} {figure}: {error}");
    }
    // Figures outside the range are allowed.
    let mut answer = with("1 kW");
    answer["givens"]["bore"] = json!("3 m");
    assert!(tried(&answer).is_ok());
}
