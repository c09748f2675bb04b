//! `bedplate try` without an answer asks for one, for every kind of card; follow-ups and the reason can be tried too.

use std::path::Path;

use assert_cmd::Command;
use serde_json::Value;

/// Exit code, standard output and standard error.
fn answered(deck: &str, arguments: &[&str], typed: &str) -> (i32, String, String) {
    let mut command = Command::cargo_bin("bedplate").expect("the program is built");
    command.arg("try").arg(Path::new(env!("CARGO_MANIFEST_DIR")).join(deck)).args(arguments).arg("--plain");
    let output = command.write_stdin(typed).output().expect("it runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("UTF-8");
    (output.status.code().expect("no signal"), text(output.stdout), text(output.stderr))
}

#[test]
fn every_kind_of_card_is_asked_and_its_marking_told_in_words() {
    let ship = "tests/ship";
    for (card, typed, words) in [
        ("full-air", "3000 kPa\n", vec!["Figure\n", "Caution:", "Answered: ", "Because:"]),
        ("full-air", "30\n", vec!["Prompted: "]),
        (
            "priming-pump",
            "the gear pump on the engine feeds the bearings\n",
            vec!["1  said, in “", "5  not said: ", "(safety-critical)", "Missed: "],
        ),
        ("priming-pump", "\n9 x\n1, 2 3 4 5\n", vec!["Type numbers from 1 to 5.", "5  said: ", "Answered: "]),
        (
            "blackout",
            "nonsense\n1 1\n2 1 5 3\n",
            vec!["Type the numbers of the links", "stands there twice", "Answered: "],
        ),
        (
            "dead-ship",
            "2\n",
            vec!["Main switchboard live", "cooling pump: fails", "The goal is not reached.", "Missed: "],
        ),
        ("fuel-line", "none\n", vec!["What can be turned, as found:", "not met", "Missed: "]),
        ("find-it", "99\n4\n", vec!["Type one number from 1 to", "Answered: "]),
        ("indicated-power", "= pi*D^2/4\n1 kW\n", vec!["Given:", "Line 2 or the answer: ", "Missed: 1 kW is not "]),
    ] {
        let (code, out, err) = answered(ship, &[card], typed);
        assert_eq!((code, err.as_str()), (0, ""), "{card}: {out}");
        for word in words {
            assert!(out.contains(word), "{card}: `{word}` in {out}");
        }
        assert!(!out.contains("\"outcome\""), "{card}: words, not JSON: {out}");
    }
}

#[test]
fn another_seed_draws_other_figures_and_the_same_one_the_same() {
    let asked =
        |seed: &str| answered("decks/calculations", &["indicated-power-two-stroke", "--seed", seed], "1 kW\n").1;
    assert_eq!(asked("7"), asked("7"));
    assert_ne!(asked("7"), asked("8"));
}

#[test]
fn json_is_printed_where_it_is_wanted_and_the_question_keeps_out_of_it() {
    let (code, out, err) = answered("tests/ship", &["full-air", "--json"], "30 bar\n");
    let value: Value = serde_json::from_str(&out).expect("JSON alone");
    assert_eq!((code, value["outcome"].as_str()), (0, Some("answered")));
    assert!(err.contains("To what pressure"), "{err}");
    let by_call = answered("tests/ship", &["full-air", "--answer", "{\"text\": \"30 bar\"}"], "").1;
    assert_eq!(out, by_call);
}

#[test]
fn without_any_answer_the_call_fails() {
    for card in ["full-air", "priming-pump", "blackout", "indicated-power"] {
        let (code, out, err) = answered("tests/ship", &[card], "");
        assert_eq!(code, 2, "{out}");
        assert!(err.contains("no answer was given"), "{err}");
    }
}

#[test]
fn follow_ups_are_tried_by_their_numbers_and_the_reason_by_its_name() {
    let deck = tempfile::tempdir().expect("a folder");
    let head =
        "id = \"d\"\ntitle = \"D\"\nedition = 1\n[source.practice]\ntitle = \"common practice\"\nkind = \"practice\"\n";
    let card = "[[figure]]\nid = \"air\"\ntopic = \"A-III/1.1.4\"\nask = \"How much?\"\nvalue = \"30 bar\"\nsources = [\"practice\"]\n\
        because = \"Six starts.\"\nbecause_points = [{ say = \"The engine must start six times\", accept = [\"six starts\"] }]\n\
        probes = [\n  { after = \"all\", ask = \"Who fills it?\", points = [{ say = \"The compressor\" }] },\n  \
        { after = \"all\", ask = \"What lets it out?\", points = [{ say = \"The relief valve\" }, { say = \"The fusible plug\" }] },\n]\n";
    std::fs::write(deck.path().join("deck.toml"), head).expect("written");
    std::fs::write(deck.path().join("c.toml"), card).expect("written");
    let path = deck.path().to_str().expect("UTF-8");
    let (_, out, _) = answered(path, &["air"], "30 bar\n");
    assert!(out.contains("Its 2 follow-ups can be tried with --probe 1 to --probe 2."), "{out}");
    assert!(out.contains("--probe reason"), "{out}");
    let (code, out, _) = answered(path, &["air", "--probe", "2"], "the relief valve does\n");
    assert_eq!(code, 0);
    assert!(
        out.contains("What lets it out?")
            && out.contains("1  said, in “")
            && out.contains("2  not said: The fusible plug"),
        "{out}"
    );
    assert!(!out.contains("--probe"), "a follow-up has none itself: {out}");
    let (code, out, _) =
        answered(path, &["air", "--probe", "reason", "--answer", "{\"text\": \"it takes six starts\"}"], "");
    let value: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!((code, &value["points"][0]["said"], value["card"].as_str()), (0, &Value::Bool(true), Some("air")));
    for (probe, words) in
        [("3", "2 follow-ups: write --probe with a number from 1 to 2"), ("0", "2 follow-ups"), ("x", "2 follow-ups")]
    {
        let (code, _, err) = answered(path, &["air", "--probe", probe, "--answer", "{\"text\": \"x\"}"], "");
        assert!(code == 2 && err.contains(words), "{err}");
    }
    let (code, _, err) = answered("tests/ship", &["full-air", "--probe", "reason"], "x\n");
    assert!(code == 2 && err.contains("because_points"), "{err}");
}
