//! A sequence in the terminal watch: its steps lie ashore in a random order, the learner types numbers, and the list
//! is run and told line by line.

use std::fs;
use std::io::{Read, Write};
use std::path::Path;
use std::process::{Command, Stdio};

use bedplate::domain::day::Instant;

/// Reads until the program asks for something.
fn until_asked(out: &mut impl Read) -> Option<String> {
    let mut bytes = Vec::new();
    let mut byte = [0];
    while out.read(&mut byte).ok()? == 1 {
        bytes.push(byte[0]);
        if [&b"> "[..], b"nowhere): ", b"notch: ", b"next: "].iter().any(|end| bytes.ends_with(end)) {
            return Some(String::from_utf8(bytes).expect("UTF-8"));
        }
    }
    None
}

#[test]
fn a_sequence_is_asked_run_and_told_in_the_terminal() {
    let home = tempfile::tempdir().expect("a folder");
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/decks/sound--sequence");
    let deck = home.path().join("decks/sequence");
    fs::create_dir_all(&deck).expect("made");
    for file in ["deck.toml", "cards.toml"] {
        fs::copy(from.join(file), deck.join(file)).expect("copied");
    }
    let morning = Instant(20_782 * 86_400_000 + 8 * 3_600_000);
    crate::support::bundled::set_aside_in(&home.path().join("profiles/cadet"), morning);
    let mut child = Command::new(env!("CARGO_BIN_EXE_bedplate"))
        .args(["watch", "--now", "2026-11-25T08:00:00Z", "--profile"])
        .arg(home.path().join("profiles/cadet"))
        .env("BEDPLATE_HOME", home.path())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut input = child.stdin.take().expect("a pipe");
    let mut out = child.stdout.take().expect("a pipe");
    let mut say = |line: &str| input.write_all(format!("{line}\n").as_bytes()).expect("it listens");
    let asked = loop {
        let text = until_asked(&mut out).expect("the sequence is asked before the watch ends");
        if text.contains("Run the compressor into the receiver") {
            break text;
        }
        say(if text.ends_with("nowhere): ") { "1" } else { "" });
    };
    assert!(asked.contains("Emergency board live: holds"), "{asked}");
    let number = |step: &str| {
        let line = asked.lines().find(|line| line.ends_with(step)).expect("every step lies ashore");
        line.split_whitespace().next().expect("a number").to_owned()
    };
    say(&format!(
        "{} {} {}",
        number("Run the compressor into the receiver"),
        number("Start the cooling pump"),
        number("Drain the water")
    ));
    let told = until_asked(&mut out).expect("the list is marked");
    for part in [
        "Run the compressor into the receiver: fails",
        "The compressor overheats.",
        "Severity: damage",
        "which counts: 0 of 3 lines",
        "Missed: goal not reached, 1 step broken",
    ] {
        assert!(told.contains(part), "no “{part}” in:\n{told}");
    }
    say("w");
    assert!(until_asked(&mut out).expect("a right order").contains("A right order."));
    say("");
    assert!(until_asked(&mut out).expect("the watch goes on").contains("Kept."));
    child.kill().expect("it runs");
    child.wait().expect("it ends");
}
