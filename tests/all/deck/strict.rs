//! What a publisher checks: planted faults are found, and decks/COVERAGE.md is what the program makes of the decks.

use std::path::Path;

use assert_cmd::Command;
use bedplate::deck::read_deck;
use bedplate::deck::strict::{Sort, coverage, findings};

use crate::support::bundled;

fn planted(cards: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    std::fs::create_dir(folder.path().join("cards")).unwrap();
    let head = "id = \"planted\"\ntitle = \"Planted\"\nedition = 1\nlanguage = \"en\"\npublisher = \"Bedplate\"\nlicence = \"CC-BY-4.0\"\n\
                \n[source.practice]\ntitle = \"Common practice, no published source\"\nkind = \"practice\"\n";
    std::fs::write(folder.path().join("deck.toml"), head).unwrap();
    std::fs::write(folder.path().join("cards/a.toml"), cards).unwrap();
    folder
}

fn recall(id: &str, ask: &str, say: &str, accept: &str, because: &str) -> String {
    format!(
        "[[recall]]\nid = \"{id}\"\ntopic = \"A-III/1.1.1\"\nask = \"{ask}\"\npoints = [{{ say = \"{say}\", accept = [{accept}] }}]\n\
         sources = [\"practice\"]\nseconds = 20\n{because}\n"
    )
}

fn found(folder: &Path) -> Vec<(Sort, String)> {
    let deck = read_deck(folder).deck.expect("a deck");
    findings(&[&deck], false).into_iter().map(|f| (f.sort, f.message)).collect()
}

#[test]
fn planted_faults_are_found_and_sound_cards_are_not() {
    let because = "because = \"It shows that water runs.\"";
    let sound =
        recall("a", "What do you look at in the bilge?", "The level in each well", "\"level in the wells\"", because);
    assert_eq!(found(planted(&sound).path()), []);
    let given = recall(
        "a",
        "The lubricating oil is purified. Why?",
        "Lubricating oil is purified",
        "\"oil is purified\"",
        because,
    );
    let given = found(planted(&given).path());
    assert!(given.iter().any(|(sort, _)| *sort == Sort::GivenAway), "{given:?}");
    let no_reason =
        recall("a", "What do you look at in the bilge?", "The level in each well", "\"level in the wells\"", "");
    assert!(found(planted(&no_reason).path()).iter().any(|(sort, _)| *sort == Sort::NoReason));
    let twins = format!(
        "{}{}",
        recall("a", "What do you look at first in the bilge wells?", "The level", "\"water level\"", because),
        recall("b", "What do you look at first in bilge wells?", "Oil on the water", "\"oil film\"", because)
    );
    assert!(found(planted(&twins).path()).iter().any(|(sort, _)| *sort == Sort::Twins));
}

/// A recall card with these points and this question, as `found` tells of it by code.
fn codes(ask: &str, points: &str, more: &str) -> Vec<(String, String)> {
    let card = format!(
        "[[recall]]\nid = \"a\"\ntopic = \"A-III/1.1.1\"\nask = \"{ask}\"\npoints = [{points}]\nsources = [\"practice\"]\n\
         because = \"It shows that water runs.\"\nseconds = 20\n{more}\n"
    );
    let folder = planted(&card);
    let reading = read_deck(folder.path());
    assert!(reading.problems.iter().all(|problem| problem.severity.word() != "error"), "{:?}", reading.problems);
    let wanted = [Sort::BareAccept, Sort::CriticalWithoutReject, Sort::CriticalWithoutSample];
    let deck = reading.deck.expect("a deck");
    let found = findings(&[&deck], false).into_iter().filter(|finding| wanted.contains(&finding.sort));
    found.map(|finding| (finding.sort.word().to_owned(), finding.message)).collect()
}

#[test]
fn an_accepted_topic_is_found_where_a_claim_is_wanted() {
    let point = "{ say = \"The switch sees running pressure and stops the pump\", \
                 accept = [\"pressure switch\", \"switch\", \"pressure is up\", \"stops at 2 bar\"] }";
    let bare =
        [("bare-accept".to_owned(), "point 1 accepts a topic and no claim: `pressure switch`, `switch`".to_owned())];
    assert_eq!(codes("Why does the pump stop?", point, ""), bare);
    assert_eq!(codes("Which device stops the pump?", point, ""), []);
    let named = "{ say = \"Pressure switch\", accept = [\"switch\"] }";
    assert_eq!(codes("What stops the pump?", named, ""), []);
    let probe = format!("probes = [{{ after = \"all\", ask = \"Why is that?\", points = [{point}] }}]");
    let of_probe = codes("What stops the pump?", named, &probe);
    assert_eq!(of_probe.len(), 1);
    assert!(of_probe[0].1.starts_with("probe 1, point 1 accepts"), "{of_probe:?}");
}

#[test]
fn a_safety_critical_point_wants_refused_phrases_and_a_sample_that_denies_it() {
    let point = |reject: &str| {
        format!(
            "{{ say = \"Open the next tank first\", accept = [\"next tank first\"], critical = true, reject = [{reject}] }}"
        )
    };
    let words = |reject: &str, more: &str| -> Vec<String> {
        codes("How do you change over?", &point(reject), more).into_iter().map(|(code, _)| code).collect()
    };
    let (no_reject, no_sample) = ("critical-without-reject", "critical-without-sample");
    assert_eq!(words("", ""), [no_reject, no_sample]);
    assert_eq!(words("\"shut full tank first\"", ""), [no_reject, no_sample]);
    let two = "\"shut full tank first\", \"shut before opening\"";
    assert_eq!(words(two, ""), [no_sample]);
    let says = "samples = [{ text = \"The next tank is opened first\", says = [1] }]";
    assert_eq!(words(two, says), [no_sample]);
    let denies = "samples = [{ text = \"I shut the full tank first\", denies = [1] }]";
    assert_eq!(words(two, denies), Vec::<String>::new());
    // Points that are not safety-critical want neither.
    assert_eq!(codes("How?", &point("").replace("critical = true, ", ""), ""), []);
}

#[test]
fn the_command_prints_a_table_and_says_by_its_code_whether_there_is_something() {
    let because = "because = \"It shows that water runs.\"";
    let sound = planted(&recall(
        "a",
        "What do you look at in the bilge?",
        "The level in each well",
        "\"level in the wells\"",
        because,
    ));
    let run = |folder: &Path, more: &[&str]| {
        Command::cargo_bin("bedplate").unwrap().args(["check", "--strict"]).args(more).arg(folder).output().unwrap()
    };
    let quiet = run(sound.path(), &[]);
    let text = String::from_utf8_lossy(&quiet.stdout).into_owned();
    assert!(text.contains("planted") && text.contains("0 findings"), "{text}");
    assert_eq!(quiet.status.code(), Some(0), "{text}");
    let faulty = planted(&recall("a", "What do you look at?", "The level in each well", "\"level\"", ""));
    let loud = run(faulty.path(), &["--json"]);
    assert_eq!(loud.status.code(), Some(1));
    let json: serde_json::Value = serde_json::from_slice(&loud.stdout).expect("JSON");
    assert_eq!(json["findings"][0]["sort"], "no reason");
    assert_eq!(json["findings"][0]["code"], "no-reason");
    let last = json["findings"].as_array().and_then(|findings| findings.last()).expect("a finding");
    assert_eq!((&last["code"], &last["card"]), (&"bare-accept".into(), &"planted/a".into()));
    // None of it is a problem of the plain check.
    let plain = Command::cargo_bin("bedplate").unwrap().arg("check").arg(faulty.path()).output().unwrap();
    assert!(!String::from_utf8_lossy(&plain.stdout).contains("bare-accept"));
    let missing = run(Path::new("/nowhere/at-all"), &[]);
    assert_eq!(missing.status.code(), Some(2));
}

#[test]
fn the_coverage_report_is_true() {
    let made = coverage(&bundled::decks().collect::<Vec<_>>()).markdown();
    let kept = std::fs::read_to_string(bundled::folder().join("COVERAGE.md")).unwrap_or_default();
    assert_eq!(kept, made, "make it anew: cargo run -- coverage decks > decks/COVERAGE.md");
}
