//! A line-up in the terminal watch: everything listed, valves set by number and by name, checked, mended, a setting that
//! works; and what its remedy and its page say.

use std::fs;
use std::io::{Read, Write};
use std::path::Path;
use std::process::{Command, Stdio};

use bedplate::app::views::lineup::{remedy, right_setting};
use bedplate::domain::day::Instant;
use bedplate::domain::piping::examine;

use crate::ui::sample_lineup::{FUEL, network};

/// Reads until the program asks for something.
fn until_asked(out: &mut impl Read) -> Option<String> {
    let mut bytes = Vec::new();
    let mut byte = [0];
    while out.read(&mut byte).ok()? == 1 {
        bytes.push(byte[0]);
        if [&b"> "[..], b"nowhere): ", b"notch: ", b"next: ", b" to a: "].iter().any(|end| bytes.ends_with(end)) {
            return Some(String::from_utf8(bytes).expect("UTF-8"));
        }
    }
    None
}

#[test]
fn a_line_up_is_asked_checked_mended_and_told_in_the_terminal() {
    let home = tempfile::tempdir().expect("a folder");
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/decks/sound--lineup");
    let deck = home.path().join("decks/lineup");
    fs::create_dir_all(&deck).expect("made");
    fs::copy(from.join("deck.toml"), deck.join("deck.toml")).expect("copied");
    fs::copy(from.join("cards.toml"), deck.join("cards.toml")).expect("copied");
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
        let text = until_asked(&mut out).expect("the line-up is asked before the watch ends");
        if text.contains("What can be turned") {
            break text;
        }
        say(if text.ends_with("nowhere): ") { "1" } else { "" });
    };
    for part in [
        "Distillate service tank, fuel oil → Quick-closing valve",
        "  1  Quick-closing valve: shut",
        "  3  Return cock: to Distillate service tank (a) or to Residual tank (b)",
        "  - Nothing to the residual tank",
        "Open, such as 1 2, 3 to a: ",
    ] {
        assert!(asked.contains(part), "no “{part}” in:\n{asked}");
    }
    say("the moon");
    let refused = until_asked(&mut out).expect("it says so");
    assert!(refused.contains("called “the moon”") && refused.ends_with(" to a: "), "and asks again:\n{refused}");
    say("quick-closing, cross, return cock to residual tank");
    let told = until_asked(&mut out).expect("the line-up is checked");
    for part in [
        "First check, which counts: 0 of 2 demands met",
        "not met  Round by the engine: Return cock stands to Residual tank",
        "not met  Nothing to the residual tank: it flows by",
        "Missed: 0 of 2 demands met",
    ] {
        assert!(told.contains(part), "no “{part}” in:\n{told}");
    }
    say("1 3a");
    let mended = until_asked(&mut out).expect("it is checked again");
    assert!(mended.contains("Check two: 2 of 2 demands met; the first check counts"), "{mended}");
    assert!(mended.contains("It works") && mended.contains("Missed: 0 of 2"), "the first check counts:\n{mended}");
    say("w");
    let right = until_asked(&mut out).expect("a setting that works");
    assert!(
        right.contains("One that works. The only one.") && right.contains("  Open: Quick-closing valve"),
        "{right}"
    );
    say("");
    assert!(until_asked(&mut out).expect("the watch goes on").contains("Kept."));
    child.kill().expect("it runs");
    child.wait().expect("it ends");
}

#[test]
fn the_setting_that_is_shown_works_and_is_told_whole() {
    let network = network(FUEL);
    let right = right_setting(&network).expect("it is simple enough");
    assert!(examine(&network, &right.set).expect("simple").works());
    assert_eq!(right.note, "One of 4, with the fewest open.");
    let wanted = [
        "Open: Quick-closing valve (after Distillate service tank), Inlet valve, Return valve",
        "Inlet cock to Filter 1, Outlet cock to Filter 1",
        "Shut: Drain to sludge, Cross-connection",
    ];
    assert_eq!(right.words, wanted);
}

#[test]
fn a_remedy_goes_through_the_demands_and_what_they_need() {
    let mut parts = Vec::new();
    remedy(&network(FUEL), &mut |label, text, critical| parts.push((label, text, critical)));
    let part = |label: &str, text: &str, critical| (label.to_owned(), text.to_owned(), critical);
    let qcv = "Quick-closing valve (after Distillate service tank)";
    let wanted = [
        part("Demand 1 of 4", "Service tank to supply pump", false),
        part("Demand 2 of 4", "Supply pump to engine", false),
        part("Demand 3 of 4", "Return to service tank", false),
        part("Demand 4 of 4", "Nothing to or from the residual tank", true),
        part("Always open", &format!("{qcv}, Inlet valve and Return valve"), false),
        part("Always shut", "Cross-connection", false),
    ];
    assert_eq!(parts[..6], wanted);
    assert_eq!(parts[6].0, "A setting that works");
    assert_eq!(parts.len(), 7);
}
