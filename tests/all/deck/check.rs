//! `bedplate check` from outside: exit codes, JSON and text.

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;
use serde_json::{Value, json};

fn deck(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/decks").join(name)
}

fn check(path: &Path, json: bool) -> (i32, String, String) {
    check_with(path, if json { &["--json"] } else { &[] })
}

fn check_with(path: &Path, more: &[&str]) -> (i32, String, String) {
    let mut command = Command::cargo_bin("bedplate").expect("the program is built");
    command.arg("check").arg(path).args(more);
    let output = command.output().expect("it runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("UTF-8");
    (output.status.code().expect("no signal"), text(output.stdout), text(output.stderr))
}

#[test]
fn a_sound_deck_exits_with_0_and_counts_its_cards() {
    let (code, out, err) = check(&deck("sound"), true);
    assert_eq!((code, err.as_str()), (0, ""));
    let value: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(value, json!({ "problems": [], "cards": { "recall": 2, "figure": 1, "why": 1 } }));
}

#[test]
fn a_problem_has_exactly_its_seven_keys() {
    let (code, out, _) = check(&deck("bad-weight"), true);
    assert_eq!(code, 1);
    let value: Value = serde_json::from_str(&out).expect("JSON");
    let expected = json!({
        "code": "bad-weight",
        "severity": "error",
        "file": "cards.toml",
        "line": 9,
        "column": 10,
        "message": "`weight` must be 1, 2 or 3",
        "mend": "use 1, 2 or 3, or leave it out for 2",
    });
    assert_eq!(value["problems"][0], expected);
    assert_eq!(value["problems"].as_array().map(Vec::len), Some(3));
}

#[test]
fn warnings_and_advice_alone_exit_with_0() {
    for name in ["unused-line", "no-because", "like-ask"] {
        let (code, out, _) = check(&deck(name), true);
        let value: Value = serde_json::from_str(&out).expect("JSON");
        let problems = value["problems"].as_array().expect("a list");
        assert!(!problems.is_empty(), "{name}");
        let errors = problems.iter().filter(|p| p["severity"] == "error").count();
        assert_eq!(code, i32::from(errors > 0), "{name}");
    }
}

#[test]
fn no_deck_exits_with_2_and_says_so() {
    let folder = tempfile::tempdir().expect("a folder");
    for path in [folder.path().to_path_buf(), folder.path().join("nothing")] {
        let (code, out, err) = check(&path, false);
        assert_eq!((code, out.as_str()), (2, ""));
        assert!(err.contains("deck.toml"), "{err}");
        let (code, out, err) = check(&path, true);
        assert_eq!(code, 2);
        assert!(!err.is_empty());
        let value: Value = serde_json::from_str(&out).expect("JSON");
        assert_eq!(value["problems"].as_array().map(Vec::len), Some(1));
        assert_eq!(value["problems"][0]["code"], "unreadable-deck");
        assert_eq!(value["cards"], json!({}));
    }
}

#[test]
fn a_deck_file_that_is_not_toml_exits_with_1() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("deck.toml"), "id = \"a\"\ntitle = \n").expect("written");
    let (code, out, _) = check(folder.path(), true);
    assert_eq!(code, 1);
    let value: Value = serde_json::from_str(&out).expect("JSON");
    let first = &value["problems"][0];
    assert_eq!(
        (first["code"].as_str(), first["line"].as_u64(), first["column"].as_u64()),
        (Some("not-toml"), Some(2), Some(9))
    );
}

#[test]
fn the_deck_file_may_be_named_in_place_of_its_folder() {
    let (code, out, _) = check(&deck("sound").join("deck.toml"), false);
    assert_eq!(
        (code, out.as_str()),
        (0, "4 cards (1 figure, 2 recall, 1 why): 0 errors, 0 warnings, 0 pieces of advice\n")
    );
}

#[test]
fn problems_are_told_in_plain_sentences() {
    let (code, out, _) = check(&deck("equal-links"), false);
    assert_eq!(code, 1);
    let expected = "Error in cards.toml, line 5, column 42 (equal-links)
    The link `pump  stops.` is there twice.
    To mend it: reword one of them or take it out.

Error in cards.toml, line 15, column 21 (equal-links)
    The link `C` is there twice.
    To mend it: reword one of them or take it out.

2 cards (2 why): 2 errors, 0 warnings, 0 pieces of advice
";
    assert_eq!(out, expected);
    // A question stays one, and nothing of a file's own lines is shown.
    let (_, out, _) = check(&deck("unknown-key"), false);
    assert!(out.contains("To mend it: did you mean `accept`?\n") && !out.contains(" | "), "{out}");
}

#[test]
fn the_source_is_shown_where_it_is_asked_for() {
    let (code, out, _) = check_with(&deck("equal-links"), &["--source"]);
    assert_eq!(code, 1);
    let expected = r#"error[equal-links]: the link `pump  stops.` is there twice
 --> cards.toml:5:42
  |
5 | links = ["Pump stops", "Pressure falls", "pump  stops."]
  |                                          ^^^^^^^^^^^^^^
  |
  = help: reword one of them or take it out

error[equal-links]: the link `C` is there twice
  --> cards.toml:15:21
   |
15 | false_links = ["c", "C"]
   |                     ^^^
   |
   = help: reword one of them or take it out

2 cards (2 why): 2 errors, 0 warnings, 0 pieces of advice
"#;
    assert_eq!(out, expected);
}

#[test]
fn nothing_that_moves_the_terminal_is_printed() {
    for name in ["hidden-character", "control-character"] {
        let (_, sentences, _) = check(&deck(name), false);
        let (_, source, _) = check_with(&deck(name), &["--source"]);
        let out = sentences + &source;
        let moves = |c: char| c != '\n' && (c.is_control() || "\u{202E}\u{200B}\u{200D}\u{2066}".contains(c));
        assert!(!out.chars().any(moves), "{out:?}");
    }
}
