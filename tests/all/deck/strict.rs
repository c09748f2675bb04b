//! What a publisher checks: planted faults are found, and decks/COVERAGE.md is what the program makes of the decks.

use std::path::{Path, PathBuf};

use assert_cmd::Command;
use bedplate::deck::read_deck;
use bedplate::deck::strict::{Sort, coverage, findings};

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
    let missing = run(Path::new("/nowhere/at-all"), &[]);
    assert_eq!(missing.status.code(), Some(2));
}

#[test]
fn the_coverage_report_is_true() {
    let decks = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("decks");
    let mut folders: Vec<PathBuf> = std::fs::read_dir(&decks)
        .unwrap()
        .flatten()
        .map(|e| e.path())
        .filter(|p| p.join("deck.toml").is_file())
        .collect();
    folders.sort();
    let read: Vec<_> = folders.iter().filter_map(|folder| read_deck(folder).deck).collect();
    let made = coverage(&read.iter().collect::<Vec<_>>()).markdown();
    let kept = std::fs::read_to_string(decks.join("COVERAGE.md")).unwrap_or_default();
    assert_eq!(kept, made, "make it anew: cargo run -- coverage decks > decks/COVERAGE.md");
}
