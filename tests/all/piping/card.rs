//! Line-ups from outside: `try`, `prove` and `check` of a deck on disk, as the deck format says.

use std::fs;
use std::path::Path;

use assert_cmd::Command;
use serde_json::{Value, json};

fn call(args: &[&str]) -> (Option<i32>, String, String) {
    let out = Command::cargo_bin("bedplate").expect("built").args(args).output().expect("the program runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("UTF-8");
    (out.status.code(), text(out.stdout), text(out.stderr))
}

fn deck(name: &str) -> String {
    format!("{}/tests/decks/{name}", env!("CARGO_MANIFEST_DIR"))
}

fn tried(answer: &str) -> Value {
    let (code, out, err) = call(&["try", &deck("sound--lineup"), "distillate", "--answer", answer]);
    assert_eq!(code, Some(0), "{answer}: {err}");
    serde_json::from_str(&out).expect("JSON")
}

#[test]
fn a_marking_has_the_shape_of_the_deck_format() {
    let round = ["service-tank", "qcv", "tee", "pump", "engine", "return", "service-tank"];
    assert_eq!(
        tried(r#"{"open": ["qcv"], "ways": {"return": "service-tank"}, "seconds": 61}"#),
        json!({
            "card": "distillate",
            "kind": "line-up",
            "outcome": "answered",
            "reason": "Both demands are met.",
            "demands": [
                {"name": "Round by the engine", "met": true, "path": round, "blocked_by": []},
                {"name": "Nothing to the residual tank", "met": true, "path": null, "blocked_by": []},
            ],
            "leaks": [],
        })
    );
    assert_eq!(
        tried(r#"{"open": ["qcv", "cross"], "ways": {"return": "service-tank"}}"#),
        json!({
            "card": "distillate",
            "kind": "line-up",
            "outcome": "missed",
            "reason": "“Nothing to the residual tank” is broken: flow goes from Distillate service tank by Quick-closing valve, Tee, Cross-connection to Residual tank.",
            "demands": [
                {"name": "Round by the engine", "met": true, "path": round, "blocked_by": []},
                {"name": "Nothing to the residual tank", "met": false, "path": null, "blocked_by": []},
            ],
            "leaks": [
                {"name": "Nothing to the residual tank", "path": ["service-tank", "qcv", "tee", "cross", "residual-tank"]},
            ],
        })
    );
}

#[test]
fn the_outcome_is_the_share_of_flows_unless_a_never_is_broken() {
    let outcome = |answer: &str| tried(answer)["outcome"].clone();
    assert_eq!(outcome(r#"{"open": ["qcv"], "ways": {"return": "service-tank"}, "seconds": 60}"#), "fluent");
    assert_eq!(outcome(r#"{"open": ["qcv"], "ways": {"return": "service-tank"}, "seconds": 60.5}"#), "answered");
    assert_eq!(outcome(r#"{"open": ["qcv"], "ways": {"return": "residual-tank"}}"#), "missed");
    assert_eq!(outcome(r#"{"ways": {"return": "service-tank"}}"#), "missed");
    let shut = tried(r#"{"open": []}"#);
    assert_eq!(shut["demands"][0]["blocked_by"], json!(["qcv", "return"]));
    assert_eq!(
        shut["reason"],
        "“Round by the engine” is not met: Quick-closing valve is shut and Return cock is on neither way."
    );
}

#[test]
fn what_cannot_be_set_so_is_an_error_of_the_call() {
    for (answer, part) in [
        (r#"{"open": ["qcx"]}"#, "there is no node `qcx`"),
        (r#"{"open": ["pump"]}"#, "`pump` is a pump and can be neither opened nor shut"),
        (r#"{"open": ["qcv", "qcv"]}"#, "`qcv` is given twice"),
        (r#"{"open": ["return"]}"#, "set it by `ways`"),
        (r#"{"open": "qcv"}"#, "`open` must be a list of node keys"),
        (r#"{"open": [1]}"#, "`open` must be a list of node keys"),
        (r#"{"ways": ["return"]}"#, "`ways` must name a way for each three-way valve"),
        (r#"{"ways": {"return": 1}}"#, "`ways` must name a way for each three-way valve"),
        (r#"{"ways": {"return": "engine"}}"#, "`engine` is no way of `return`"),
        (r#"{"ways": {"return": "service-tank", "return": "residual-tank"}}"#, "`return` is given twice"),
        (r#"{"ways": {"qcv": "tee"}}"#, "`qcv` is no three-way valve"),
        (r#"{"text": "all open"}"#, "answered with `open` and `ways`"),
        ("{}", "gives nothing"),
        (r#"{"open": ["qcv"], "steps": []}"#, "at once"),
    ] {
        let (code, out, err) = call(&["try", &deck("sound--lineup"), "distillate", "--answer", answer]);
        assert_eq!((code, out.as_str()), (Some(2), ""), "{answer}");
        assert!(err.contains(part), "{answer}: {err}");
    }
}

#[test]
fn a_proof_is_told_as_json_and_as_text() {
    let (code, out, err) = call(&["prove", &deck("sound--lineup"), "distillate", "--json"]);
    assert_eq!(code, Some(0), "{err}");
    assert_eq!(
        serde_json::from_str::<Value>(&out).expect("JSON"),
        json!({
            "works": true,
            "settings": "1",
            "least_open": {"open": ["qcv"], "ways": {"return": "service-tank"}},
            "needed_open": ["qcv"],
            "needed_shut": ["cross"],
        })
    );
    let (code, out, _) = call(&["prove", &deck("sound--lineup"), "distillate"]);
    assert_eq!(code, Some(0));
    assert_eq!(
        out,
        "It works. One setting meets every demand.\n\
         One with the fewest open:\n    qcv: Quick-closing valve, open\n    return: Return cock, to Distillate service tank\n\
         Always open:  qcv\nAlways shut:  cross\n"
    );
}

#[test]
fn a_line_up_that_no_setting_solves_can_be_looked_into() {
    let (code, out, err) = call(&["prove", &deck("no-setting"), "c", "--json"]);
    assert_eq!(code, Some(0), "{err}");
    assert_eq!(
        serde_json::from_str::<Value>(&out).expect("JSON"),
        json!({"works": false, "settings": "0", "least_open": null, "needed_open": [], "needed_shut": []})
    );
    let (_, out, _) = call(&["prove", &deck("no-setting"), "c"]);
    assert_eq!(out, "No setting of the valves meets every demand.\n");
    let (code, _, _) = call(&["check", &deck("no-setting")]);
    assert_eq!(code, Some(1));
}

/// A card of a square of valves, each tied to those beside it, between a tank and an engine.
fn square(side: usize) -> String {
    let mut text = "[[lineup]]\nid = \"square\"\ntopic = \"A-III/1.1.4\"\nask = \"Which way through?\"\n\
        because = \"Any.\"\nsources = [\"practice\"]\nseconds = 60\n"
        .to_owned();
    let node = |key: &str, kind: &str, column: usize, row: usize| {
        format!("[[lineup.node]]\nkey = \"{key}\"\nkind = \"{kind}\"\nname = \"{key}\"\nat = [{column}, {row}]\n")
    };
    let pipe = |from: &str, to: &str| format!("[[lineup.pipe]]\nfrom = \"{from}\"\nto = \"{to}\"\n");
    let key = |column: usize, row: usize| format!("v{column}-{row}");
    text += &node("tank", "tank", 0, 0);
    text += &node("engine", "engine", 2 * side + 2, 0);
    let mut pipes = String::new();
    for column in 1..=side {
        for row in 1..=side {
            text += &node(&key(column, row), "valve", 2 * column, 2 * row);
            if column < side {
                pipes += &pipe(&key(column, row), &key(column + 1, row));
            }
            if row < side {
                pipes += &pipe(&key(column, row), &key(column, row + 1));
            }
        }
    }
    for row in 1..=side {
        pipes += &pipe("tank", &key(1, row));
        pipes += &pipe(&key(side, row), "engine");
    }
    text + &pipes + "[[lineup.demand]]\nname = \"Tank to engine\"\nflow = [\"tank\", \"engine\"]\n"
}

fn written(cards: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::copy(Path::new(&deck("sound--lineup")).join("deck.toml"), folder.path().join("deck.toml")).expect("copied");
    fs::write(folder.path().join("cards.toml"), cards).expect("written");
    folder
}

#[test]
fn beyond_twenty_only_the_number_of_settings_is_left_out() {
    let folder = written(&square(5));
    let path = folder.path().to_string_lossy().into_owned();
    let (code, out, err) = call(&["prove", &path, "square", "--json"]);
    assert_eq!(code, Some(0), "{err}");
    let proof: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(
        proof,
        json!({
            "works": true,
            "settings": null,
            "least_open": {"open": ["v1-1", "v2-1", "v3-1", "v4-1", "v5-1"], "ways": {}},
            "needed_open": [],
            "needed_shut": [],
        })
    );
    let (_, out, _) = call(&["prove", &path, "square"]);
    assert!(out.starts_with("It works. There are too many valves to count the settings.\n"), "{out}");
}

#[test]
fn what_is_too_entangled_is_said_to_be_so() {
    let folder = written(&square(13));
    let path = folder.path().to_string_lossy().into_owned();
    let (code, out, _) = call(&["check", &path, "--json"]);
    assert_eq!(code, Some(1));
    let problems: Value = serde_json::from_str(&out).expect("JSON");
    let codes: Vec<&Value> = problems["problems"].as_array().expect("a list").iter().map(|p| &p["code"]).collect();
    assert_eq!(codes, ["too-complex"]);
    let (code, _, err) = call(&["prove", &path, "square"]);
    assert_eq!(code, Some(2));
    assert!(err.contains("too entangled"), "{err}");
}
