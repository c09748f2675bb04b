//! How commands end: quietly on a closed pipe, with an error where what they print cannot be written; and what can be
//! read of a profile that another program has open.
#![cfg(unix)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::Arc;

use bedplate::domain::day::Instant;
use bedplate::store::{OpenError, OpenOptions, Store, StoreError};

use crate::app::demo::made;

/// A home with a copy of the demonstration's learner in it.
fn home() -> (tempfile::TempDir, PathBuf) {
    let home = tempfile::tempdir().expect("a folder");
    let profile = home.path().join("profiles/a");
    fs::create_dir_all(&profile).expect("made");
    for file in fs::read_dir(made().join("profiles/demo-r-halloran")).expect("there").map(Result::unwrap) {
        if file.path().is_file() {
            fs::copy(file.path(), profile.join(file.file_name())).expect("copied");
        }
    }
    (home, profile)
}

fn program(home: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_bedplate"));
    command.args(arguments).env("BEDPLATE_HOME", home).stdin(Stdio::null()).stderr(Stdio::piped());
    command
}

fn ended(mut command: Command, stdout: Stdio) -> (Option<i32>, String) {
    let out = command.stdout(stdout).spawn().expect("it starts").wait_with_output().expect("it ends");
    (out.status.code(), String::from_utf8_lossy(&out.stderr).into_owned())
}

/// Every command that prints, on the demonstration and on decks of the tests.
fn commands(profile: &Path) -> Vec<Vec<String>> {
    let deck = |name: &str| format!("{}/tests/decks/{name}", env!("CARGO_MANIFEST_DIR"));
    let profile = profile.to_string_lossy().into_owned();
    let words = |text: &str| text.split(' ').map(str::to_owned).collect::<Vec<String>>();
    let of_profile = |text: &str| [words(text), vec!["--profile".to_owned(), profile.clone()]].concat();
    vec![
        vec!["check".to_owned(), deck("lone-node")],
        vec!["check".to_owned(), deck("lone-node"), "--json".to_owned()],
        vec!["check".to_owned(), deck("lone-node"), "--source".to_owned()],
        vec!["schema".to_owned()],
        vec!["check".to_owned(), "--strict".to_owned(), deck("sound")],
        vec!["coverage".to_owned(), deck("sound")],
        vec!["prove".to_owned(), deck("sound--lineup"), "distillate".to_owned()],
        [vec!["try".to_owned(), deck("sound--lineup")], words("distillate --answer {\"open\":[]}")].concat(),
        of_profile("ready"),
        of_profile("ready --json"),
        of_profile("plan --json"),
        of_profile("report last"),
        of_profile("report last --csv"),
        of_profile("report progress --csv"),
        of_profile("export attempts"),
        of_profile("export attempts --json"),
        of_profile("watch --now 2027-02-27T08:00:00Z"),
        of_profile("oral --questions 1"),
    ]
}

#[test]
fn on_a_closed_pipe_every_command_ends_quietly() {
    let (home, profile) = home();
    for arguments in commands(&profile) {
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        let (reader, writer) = std::io::pipe().expect("a pipe");
        drop(reader);
        let (code, said) = ended(program(home.path(), &arguments), Stdio::from(writer));
        assert_eq!((code, said.as_str()), (Some(0), ""), "{arguments:?}");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn on_a_full_disk_every_command_says_so_and_fails() {
    let (home, profile) = home();
    for arguments in commands(&profile) {
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        let full = fs::OpenOptions::new().write(true).open("/dev/full").expect("Linux has it");
        let (code, said) = ended(program(home.path(), &arguments), Stdio::from(full));
        assert_eq!(code, Some(2), "{arguments:?}: {said}");
        assert!(said.starts_with("bedplate: ") && said.contains("No space left"), "{arguments:?}: {said}");
    }
    // A report into a file that cannot be written whole.
    let mut command = program(home.path(), &["report", "last", "--csv", "--file", "/dev/full", "--profile"]);
    command.arg(&profile);
    let (code, said) = ended(command, Stdio::null());
    assert!(code == Some(2) && said.contains("could not be written"), "{code:?}: {said}");
}

fn output(home: &Path, arguments: &[&str], profile: &Path) -> Output {
    program(home, arguments).arg("--profile").arg(profile).output().expect("it runs")
}

#[test]
fn what_only_reads_works_while_the_window_has_the_profile_open() {
    let (home, profile) = home();
    let options = || OpenOptions { dir: profile.clone(), now: Instant(1_800_000_000_000), wake: Arc::new(|| {}) };
    // What the commands say when nobody has it open.
    let reading: [&[&str]; 5] = [
        &["export", "attempts", "--json"],
        &["report", "last"],
        &["report", "progress", "--csv"],
        &["ready", "--json"],
        &["plan", "--json", "--minutes", "20"],
    ];
    let alone: Vec<Vec<u8>> = reading.iter().map(|arguments| output(home.path(), arguments, &profile).stdout).collect();
    let window = Store::open(options()).expect("it opens");
    assert!(!window.store.reads_only());
    for (arguments, alone) in reading.iter().zip(&alone) {
        let out = output(home.path(), arguments, &profile);
        let said = String::from_utf8_lossy(&out.stderr).into_owned();
        assert_eq!((out.status.code(), said.as_str()), (Some(0), ""), "{arguments:?}");
        // The search for a plan goes as far as its time allows, so that two need not be alike.
        let is_same = out.stdout == *alone || (arguments[0] == "plan" && out.stdout.starts_with(b"{"));
        assert!(!alone.is_empty() && is_same, "{arguments:?}: the same as when nobody has it open");
    }
    // What keeps something is refused still.
    let out = output(home.path(), &["watch", "--now", "2027-02-27T08:00:00Z"], &profile);
    assert_eq!(out.status.code(), Some(2), "{}", String::from_utf8_lossy(&out.stdout));
    assert!(String::from_utf8_lossy(&out.stderr).contains("open"), "{}", String::from_utf8_lossy(&out.stderr));

    // A store that reads only sees what is kept meanwhile, and keeps nothing itself.
    assert!(matches!(Store::open(options()), Err(OpenError::InUse { .. })));
    let reader = Store::open_or_read(options()).expect("it is read");
    assert!(reader.store.reads_only());
    assert_eq!(reader.attempts_count, window.attempts_count);
    let refused = reader.store.save_settings(&reader.settings, Instant(0)).wait();
    assert!(matches!(refused, Err(StoreError::NotWritable { .. })), "{refused:?}");
    let mut settings = window.settings.clone();
    settings.minutes = 77;
    window.store.save_settings(&settings, Instant(0)).wait().expect("the window keeps on");
    drop(reader);
    let reader = Store::open_or_read(options()).expect("it is read again");
    assert_eq!(reader.settings.minutes, 77);
    drop(window);
    drop(reader);
    assert!(!Store::open_or_read(options()).expect("it opens as always").store.reads_only());
}

#[test]
fn a_profile_that_is_open_and_not_there_yet_is_in_use() {
    let home = tempfile::tempdir().expect("a folder");
    let dir = home.path().join("a");
    let options = || OpenOptions { dir: dir.clone(), now: Instant(0), wake: Arc::new(|| {}) };
    let window = Store::open(options()).expect("it opens");
    fs::rename(dir.join("profile.sqlite"), dir.join("elsewhere")).expect("moved");
    assert!(matches!(Store::open_or_read(options()), Err(OpenError::InUse { .. })));
    drop(window);
}

#[test]
fn plain_words_leave_the_watch_and_ask_for_help() {
    let (home, profile) = home();
    let said = |input: &str| {
        let mut command = program(home.path(), &["watch", "--now", "2027-02-27T08:00:00Z", "--profile"]);
        command.arg(&profile).stdin(Stdio::piped()).stdout(Stdio::piped());
        let mut child = command.spawn().expect("it starts");
        std::io::Write::write_all(&mut child.stdin.take().expect("piped"), input.as_bytes()).expect("written");
        String::from_utf8_lossy(&child.wait_with_output().expect("it ends").stdout).into_owned()
    };
    let first = said("stop\n");
    assert!(first.contains("stop leaves the watch") && first.contains("help shows this"), "{first}");
    assert!(first.contains("The watch is broken off.") && !first.contains(":q"), "{first}");
    let helped = said("Help\nSTOP\n");
    assert_eq!(helped.matches("stop leaves the watch").count(), 2, "{helped}");
    let reported = said("fault: the figure is old\nstop\n");
    assert!(reported.contains("broken off") && !reported.contains("Kept."), "{reported}");
}

#[test]
fn a_field_that_a_spreadsheet_would_work_out_is_made_plain() {
    use bedplate::present::document::csv_line;
    let line = |field: &str| csv_line(&[field.to_owned()]);
    for formula in
        ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1+1", " =1+1", "\u{a0}=1", "\u{feff}=1+1", "\r=1", "＝1+1", "\tx"]
    {
        let plain = line(formula);
        let plain = plain.trim_start_matches('"');
        assert!(plain.starts_with('\''), "{formula:?}: {plain:?}");
    }
    for text in ["1", "a=b", "12 - 5", " a", ""] {
        assert_eq!(line(text), format!("{text}\r\n"));
    }
}
