//! `bedplate seal`, and the commands that read what it writes.

use std::fs;
use std::path::Path;

use assert_cmd::Command;
use bedplate::deck::sealed::{SealedDeck, Signed, is_sealed, open};
use serde_json::{Value, json};
use tempfile::TempDir;

use super::parcel::{CARDS, card};
use crate::support::decks;

const TOOL: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/minisign/tool.key");

/// A folder with the deck `deck` in it.
fn desk() -> TempDir {
    let at = tempfile::tempdir().expect("a folder");
    let cards = CARDS.map(|(id, ask)| card(id, ask, "starting air")).concat();
    decks::write_into(&at.path().join("deck"), "marram-air", 1, &cards);
    fs::create_dir_all(at.path().join("deck/notes/.hidden")).expect("made");
    for name in ["notes/a note.txt", "notes/.hidden/x", ".swp"] {
        fs::write(at.path().join("deck").join(name), "a note").expect("written");
    }
    at
}

fn run(at: &Path, arguments: &[&str]) -> (i32, String, String) {
    let output = Command::cargo_bin("bedplate")
        .expect("built")
        .args(arguments)
        .env("BEDPLATE_HOME", at.join("home"))
        .current_dir(at)
        .output()
        .expect("it runs");
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (output.status.code().expect("an exit code"), text(&output.stdout), text(&output.stderr))
}

fn seal(at: &Path, arguments: &[&str]) -> (i32, String, String) {
    run(at, &[&["seal", "deck", "--out", "a.bedplate", "--plain"], arguments].concat())
}

fn opened(at: &Path) -> SealedDeck {
    let bytes = fs::read(at.join("a.bedplate")).expect("there");
    assert!(is_sealed(&bytes));
    open(&bytes).expect("a sealed deck")
}

#[test]
fn a_sealed_deck_holds_every_file_that_does_not_hide() {
    let at = desk();
    let (code, _, told) = seal(at.path(), &["--made", "2026-11-25T10:00:00+02:00"]);
    assert_eq!(code, 0, "{told}");
    let sealed = opened(at.path());
    let files: Vec<&str> = sealed.files.keys().map(String::as_str).collect();
    assert_eq!(files, ["cards.toml", "deck.toml", "notes/a note.txt"]);
    for (name, bytes) in &sealed.files {
        assert_eq!(&fs::read(at.path().join("deck").join(name)).expect("there"), bytes, "{name}");
    }
    let head = &sealed.head;
    assert_eq!((head.deck.as_str(), head.edition, head.publisher.as_str()), ("marram-air", 1, "E. Dunmore"));
    assert_eq!((head.made.as_str(), &head.key, &sealed.signed), ("2026-11-25T08:00:00Z", &None, &Signed::No));
    let left: Vec<_> = fs::read_dir(at.path()).expect("a folder").flatten().map(|e| e.file_name()).collect();
    assert_eq!(left.len(), 2, "nothing is left beside it: {left:?}");
}

#[test]
fn the_same_folder_gives_the_same_bytes_signed_or_not() {
    let at = desk();
    let bytes = |arguments: &[&str]| {
        let (code, _, told) = seal(at.path(), arguments);
        assert_eq!(code, 0, "{told}");
        fs::read(at.path().join("a.bedplate")).expect("there")
    };
    let time = ["--made", "2026-11-25T08:00:00Z"];
    let with_key = [&time[..], &["--key", TOOL]].concat();
    assert_eq!(bytes(&time), bytes(&time));
    assert_eq!(bytes(&with_key), bytes(&with_key));
    assert!(matches!(opened(at.path()).signed, Signed::By(key) if key.number() == "59BDC79A6371FBD9"));
    assert_ne!(bytes(&time), bytes(&["--made", "2026-11-25T08:00:01Z"]));
}

#[test]
fn what_cannot_be_sealed_leaves_the_file_before_as_it_was() {
    let at = desk();
    fs::write(at.path().join("a.bedplate"), "what was there").expect("written");
    let cards = at.path().join("deck/cards.toml");
    let sound = fs::read_to_string(&cards).expect("there");
    fs::write(&cards, sound.replace("A-III/1.1.4", "A-III/9")).expect("written");
    let (code, _, told) = seal(at.path(), &[]);
    assert_eq!(code, 1);
    assert!(told.contains("unknown-competence") && told.contains("not sealed"), "{told}");
    fs::write(&cards, &sound).expect("written");
    fs::write(at.path().join("deck/a*b.txt"), "x").expect("written");
    let (code, _, told) = seal(at.path(), &[]);
    assert_eq!((code, told.contains("path-sign")), (1, true), "{told}");
    fs::remove_file(at.path().join("deck/a*b.txt")).expect("removed");
    fs::write(at.path().join("deck/large.txt"), vec![b'x'; 8 * 1024 * 1024 + 1]).expect("written");
    let (code, _, told) = seal(at.path(), &[]);
    assert_eq!((code, told.contains("file-too-large")), (1, true), "{told}");
    fs::remove_file(at.path().join("deck/large.txt")).expect("removed");
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink("/etc/hostname", at.path().join("deck/link.txt")).expect("a link");
        let (code, _, told) = seal(at.path(), &[]);
        assert_eq!((code, told.contains("`link.txt` is a link")), (1, true), "{told}");
        fs::remove_file(at.path().join("deck/link.txt")).expect("removed");
    }
    assert_eq!(seal(at.path(), &["--made", "yesterday"]).0, 2);
    assert_eq!(seal(at.path(), &["--key", "no-such-key"]).0, 2);
    assert_eq!(run(at.path(), &["seal", "nothing", "--out", "a.bedplate"]).0, 2);
    let (code, _, told) = run(at.path(), &["seal", "deck", "--out", "deck/a.bedplate"]);
    assert_eq!((code, told.contains("own folder")), (2, true), "{told}");
    assert_eq!(fs::read(at.path().join("a.bedplate")).expect("there"), b"what was there");
}

#[test]
fn a_safety_critical_point_that_no_sample_denies_is_told() {
    let at = desk();
    let cards = at.path().join("deck/cards.toml");
    let text = fs::read_to_string(&cards).expect("there");
    fs::write(&cards, text.replacen("accept =", "critical = true, accept =", 1)).expect("written");
    let (code, _, told) = seal(at.path(), &[]);
    assert_eq!(code, 0, "{told}");
    assert!(told.contains("warning: `air-starts`") && !told.contains("`oil-first`"), "{told}");
}

#[test]
fn other_commands_read_a_sealed_deck() {
    let at = desk();
    assert_eq!(seal(at.path(), &["--key", TOOL, "--made", "2026-11-25T08:00:00Z"]).0, 0);
    let (code, sealed, _) = run(at.path(), &["check", "a.bedplate", "--plain", "--json"]);
    let (_, folder, _) = run(at.path(), &["check", "deck", "--plain", "--json"]);
    assert_eq!((code, sealed), (0, folder));
    let answer = ["--plain", "--answer", "{\"text\": \"starting air\"}"];
    let (code, marked, told) = run(at.path(), &[&["try", "a.bedplate", "air-starts"], &answer[..]].concat());
    assert_eq!(code, 0, "{told}");
    assert!(marked.contains("fluent") || marked.contains("answered"), "{marked}");
    let (code, shown, _) = run(at.path(), &["show", "a.bedplate", "--json"]);
    let shown: Value = serde_json::from_str(&shown).expect("JSON");
    assert_eq!((code, &shown["deck"], &shown["cards"]), (0, &json!("marram-air"), &json!(3)));
    assert_eq!((&shown["signature"], &shown["made"]), (&json!("good"), &json!("2026-11-25T08:00:00Z")));
    let (code, text, _) = run(at.path(), &["show", "a.bedplate"]);
    assert_eq!(code, 0);
    for words in ["marram-air", "E. Dunmore", "59BDC79A6371FBD9", "3 (3 recall)", "2026-11-25T08:00:00Z"] {
        assert!(text.contains(words), "{words}: {text}");
    }
    let mut bytes = fs::read(at.path().join("a.bedplate")).expect("there");
    let at_list = bytes.windows(4).position(|four| four == b"seal").expect("a name");
    bytes[at_list] = b'S';
    fs::write(at.path().join("b.bedplate"), bytes).expect("written");
    assert_eq!(run(at.path(), &["show", "b.bedplate"]).0, 1);
    let (code, _, told) = run(at.path(), &["check", "b.bedplate", "--plain"]);
    assert_eq!((code, told.contains("header-differs")), (2, true), "{told}");
    fs::write(at.path().join("c.txt"), "a text").expect("written");
    assert_eq!(run(at.path(), &["show", "c.txt"]).0, 2);
    assert!(!at.path().join("home").exists(), "looking at a file makes no home");
}
