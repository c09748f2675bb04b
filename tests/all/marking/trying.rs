//! `bedplate try` from outside: the marking as JSON, exit codes, and errors of the call.

use assert_cmd::Command;
use serde_json::{Value, json};

const DECK: &str = r#"
id = "marking-sample"
title = "Sample"
edition = 1
language = "en"
publisher = "Bedplate contributors"
licence = "CC-BY-4.0"
about = "For tests."
caution = "For tests."
[source.practice]
title = "Common practice, no published source"
kind = "practice"
"#;

const CARDS: &str = r#"
[[recall]]
id = "oil-mist"
topic = "A-III/1.1.4"
ask = "The oil mist detector gives an alarm. What do you do?"
seconds = 60
points = [
  { say = "Slow the engine down", accept = ["reduce speed"], critical = true },
  { say = "Do not open the crankcase until it has cooled", accept = ["keep the doors shut"] },
]
sources = ["practice"]

[[figure]]
id = "full-air"
topic = "A-III/1.1.4"
ask = "To what pressure are starting-air receivers normally filled?"
value = "30 bar"
within = "1 bar"
sources = ["practice"]

[[why]]
id = "chain"
topic = "A-III/1.1.4"
ask = "Put the causes in order."
links = ["The filter chokes", "Pressure falls", "The engine trips"]
false_links = ["The sun shines"]
sources = ["practice"]
"#;

fn call(card: &str, answer: &str) -> (Option<i32>, String, String) {
    let folder = tempfile::tempdir().expect("a folder for the test");
    std::fs::write(folder.path().join("deck.toml"), DECK).expect("deck.toml written");
    std::fs::write(folder.path().join("cards.toml"), CARDS).expect("cards.toml written");
    let out = Command::cargo_bin("bedplate")
        .expect("the program is built")
        .arg("try")
        .arg(folder.path())
        .args([card, "--answer", answer])
        .output()
        .expect("the program runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("UTF-8");
    (out.status.code(), text(out.stdout), text(out.stderr))
}

fn marked(card: &str, answer: &str) -> Value {
    let (code, out, err) = call(card, answer);
    assert_eq!(code, Some(0), "{card} {answer}: {err}");
    serde_json::from_str(&out).expect("one JSON object")
}

#[test]
fn markings_have_the_keys_of_the_contract() {
    let marking = marked("full-air", r#"{"text": "3 MPa"}"#);
    assert_eq!(marking["card"], "full-air");
    assert_eq!(marking["kind"], "figure");
    assert_eq!(marking["outcome"], "answered");
    assert_eq!(
        (&marking["expected"], &marking["error"], &marking["slip"]),
        (&json!("30 bar"), &json!(0.0), &Value::Null)
    );
    assert!(marking["reason"].as_str().is_some_and(|r| r.ends_with('.')));

    let marking = marked("full-air", r#"{"text": "30"}"#);
    assert_eq!((&marking["outcome"], &marking["slip"]["kind"]), (&json!("prompted"), &json!("unit")));
    assert_eq!(marked("full-air", r#"{"text": "300 bar"}"#)["slip"]["kind"], "power-of-ten");
    let marking = marked("full-air", r#"{"text": "30 s"}"#);
    assert_eq!((&marking["error"], &marking["slip"]["kind"]), (&Value::Null, &json!("dimension")));

    let marking = marked("chain", r#"{"links": [2, 1, 3, 4]}"#);
    assert_eq!(
        (&marking["in_order"], &marking["false_links"], &marking["outcome"]),
        (&json!(2), &json!(1), &json!("missed"))
    );

    let marking = marked("oil-mist", r#"{"said": [1, 2], "seconds": 60}"#);
    assert_eq!(marking["outcome"], "fluent");
    assert_eq!(marking["points"][0], json!({"said": true, "evidence": null, "contradicted": false}));

    let marking = marked("oil-mist", r#"{"text": "Reduce the revs. Open the crankcase at once."}"#);
    assert_eq!(marking["points"][0]["said"], true);
    assert_eq!(marking["points"][0]["evidence"], "Reduce the revs");
    assert_eq!(marking["points"][1]["contradicted"], true);
    assert_eq!(marking["points"][1]["said"], false);
}

#[test]
fn errors_of_the_call_exit_2_and_print_nothing() {
    for (card, answer, part) in [
        ("full-air", "{", "no JSON"),
        ("full-air", "[]", "must be a JSON object"),
        ("full-air", "{}", "gives nothing"),
        ("full-air", r#"{"txt": "30 bar"}"#, "unknown key `txt`"),
        ("full-air", r#"{"givens": {}}"#, "has no `text`"),
        ("full-air", r#"{"text": 30}"#, "must be a string"),
        ("full-air", r#"{"text": "30 bar", "said": [1]}"#, "at once"),
        ("full-air", r#"{"text": "30 bar", "seconds": -1}"#, "`seconds` must be"),
        ("full-air", r#"{"said": [1]}"#, "answered with `text`"),
        ("oil-mist", r#"{"said": [3]}"#, "point 3 does not exist"),
        ("oil-mist", r#"{"said": [1, 1]}"#, "given twice"),
        ("oil-mist", r#"{"said": [1.5]}"#, "whole numbers"),
        ("chain", r#"{"links": [0]}"#, "link 0 does not exist"),
        ("full-aire", r#"{"text": "30 bar"}"#, "did you mean `full-air`"),
        ("nothing", r#"{"text": "30 bar"}"#, "has no card `nothing`"),
    ] {
        let (code, out, err) = call(card, answer);
        assert_eq!((code, out.as_str()), (Some(2), ""), "{card} {answer}: {err}");
        assert!(err.contains(part), "{card} {answer}: {err}");
    }
    let missing =
        Command::cargo_bin("bedplate").expect("built").args(["try", "/no/such/deck", "x", "--answer", "{}"]).output();
    assert_eq!(missing.expect("the program runs").status.code(), Some(2));
}
