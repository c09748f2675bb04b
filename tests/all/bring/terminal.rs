//! `bedplate export profile` and `bedplate merge`, and the home that they work on.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use bedplate::domain::outcome::Outcome;
use serde_json::Value;

use super::computer::Computer;

fn program(home: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_bedplate"))
        .args(arguments)
        .env("BEDPLATE_HOME", home)
        .env("USER", "cadet7")
        .env_remove("BEDPLATE_LEARNER")
        .stdin(Stdio::null())
        .output()
        .expect("the program runs")
}

fn json(output: &Output) -> Value {
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("JSON")
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

/// The file of a learner with these answers, on a computer that is then put away.
fn file_of(learner: &str, cards: &[&str], to: &Path) -> PathBuf {
    let mut computer = Computer::new(0, 0);
    computer.change(|s| (s.learner, s.first_run_done) = (learner.to_owned(), true));
    for card in cards {
        computer.answer(card, Outcome::Answered);
    }
    let file = computer.write().file;
    let to = to.join(format!("{}.profile", cards.join("-")));
    fs::copy(file, &to).unwrap();
    to
}

#[test]
fn a_profile_goes_from_computer_to_computer() {
    let (home, other, stick) =
        (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let file = file_of("R. Halloran", &["drain", "purifier"], stick.path());
    let name = file.to_str().unwrap();
    let told = json(&program(home.path(), &["merge", name, "--json"]));
    assert_eq!(told["whose"], serde_json::json!({"file": "R. Halloran", "profile": "", "relation": "fresh"}));
    assert_eq!((&told["taken_in"]["answers"], &told["there"]["answers"]), (&2.into(), &0.into()));
    assert_eq!(told["taken_in"]["settings"], true);
    let told = json(&program(home.path(), &["merge", name, "--json"]));
    assert_eq!((&told["taken_in"]["answers"], &told["there"]["answers"]), (&0.into(), &2.into()));
    assert_eq!(told["whose"]["relation"], "same");
    let words = text(&program(home.path(), &["merge", name]).stdout);
    assert!(words.contains("Nothing in it is new") && words.contains("There already: 2 answers"), "{words}");

    // On to the next computer.
    let out = stick.path().join("next.profile");
    let told = json(&program(home.path(), &["export", "profile", out.to_str().unwrap(), "--json"]));
    assert_eq!((&told["kind"], &told["learner"]), (&"profile".into(), &"R. Halloran".into()));
    assert_eq!(told["holds"]["answers"], 2);
    let words = text(&program(other.path(), &["merge", out.to_str().unwrap()]).stdout);
    assert!(words.contains("Taken in: 2 answers") && words.contains("settings"), "{words}");
    let answers = |home: &Path| text(&program(home, &["export", "attempts", "--json"]).stdout);
    assert_eq!(answers(home.path()), answers(other.path()));
    assert_eq!(answers(home.path()).lines().count(), 2);
    // What was worked out of the answers is worked out again at the next opening.
    let profile = fs::read_dir(other.path().join("profiles")).unwrap().next().unwrap().unwrap().path();
    let conn = rusqlite::Connection::open(profile.join("profile.sqlite")).unwrap();
    let stamps: i64 =
        conn.query_row("SELECT count(*) FROM meta WHERE name = 'memory-stamp'", [], |row| row.get(0)).unwrap();
    assert_eq!(stamps, 0);
    // What such a file holds is shown.
    let told = json(&program(other.path(), &["show", out.to_str().unwrap(), "--json"]));
    assert_eq!((&told["kind"], &told["holds"]["answers"]), (&"profile".into(), &2.into()));
    let words = text(&program(other.path(), &["show", out.to_str().unwrap()]).stdout);
    assert!(words.contains("R. Halloran") && words.contains("2 answers"), "{words}");
}

#[test]
fn another_learner_is_refused_without_a_yes() {
    let (home, stick) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let mine = file_of("Kit Vane", &["drain"], stick.path());
    let other = file_of("R. Halloran", &["purifier", "pump"], stick.path());
    assert!(program(home.path(), &["merge", mine.to_str().unwrap()]).status.success());
    let refused = program(home.path(), &["merge", other.to_str().unwrap(), "--json"]);
    assert_eq!(refused.status.code(), Some(1));
    assert!(refused.stdout.is_empty() && text(&refused.stderr).contains("another learner’s"), "{refused:?}");
    let answers = || text(&program(home.path(), &["export", "attempts"]).stdout).lines().count();
    assert_eq!(answers(), 1);
    let told = json(&program(home.path(), &["merge", other.to_str().unwrap(), "--json", "--yes"]));
    assert_eq!(told["whose"], serde_json::json!({"file": "R. Halloran", "profile": "Kit Vane", "relation": "other"}));
    assert_eq!(answers(), 3);
}

/// At a terminal it is asked, in plain words.
#[test]
#[cfg(target_os = "linux")]
fn at_a_terminal_it_is_asked() {
    let (home, stick) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let mine = file_of("Kit Vane", &["drain"], stick.path());
    let other = file_of("R. Halloran", &["purifier", "pump"], stick.path());
    assert!(program(home.path(), &["merge", mine.to_str().unwrap()]).status.success());
    let typed = |words: &str| {
        let command = format!("{} merge {}", env!("CARGO_BIN_EXE_bedplate"), other.display());
        // `script` (util-linux) gives a command a terminal.
        let mut script = Command::new("script");
        script.args(["-qec", &command, "/dev/null"]).env("BEDPLATE_HOME", home.path());
        let mut child =
            script.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().expect("there is a program `script`");
        std::io::Write::write_all(child.stdin.as_mut().expect("a pipe"), words.as_bytes()).unwrap();
        let output = child.wait_with_output().unwrap();
        (output.status.code(), text(&output.stdout))
    };
    let (code, said) = typed("no\n");
    assert_eq!(code, Some(1), "{said}");
    for words in ["R. Halloran’s answers", "this profile is Kit Vane’s", "Type yes or no"] {
        assert!(said.contains(words), "{said}");
    }
    let answers = || text(&program(home.path(), &["export", "attempts"]).stdout).lines().count();
    assert_eq!(answers(), 1);
    let (code, said) = typed("perhaps\nyes\n");
    assert_eq!(code, Some(0), "{said}");
    assert_eq!(answers(), 3);
}

#[test]
fn a_refused_file_leaves_no_trace() {
    let (home, stick) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let file = file_of("R. Halloran", &["drain"], stick.path());
    let mut bytes = fs::read(&file).unwrap();
    let middle = bytes.len() / 2;
    bytes[middle] ^= 1;
    fs::write(&file, bytes).unwrap();
    let refused = program(home.path(), &["merge", file.to_str().unwrap(), "--yes"]);
    assert_eq!(refused.status.code(), Some(1));
    assert!(text(&refused.stderr).contains(file.to_str().unwrap()), "{refused:?}");
    assert_eq!(fs::read_dir(home.path()).unwrap().count(), 0, "not even a profile is made");
    assert_eq!(program(home.path(), &["show", file.to_str().unwrap()]).status.code(), Some(1));
    let missing = program(home.path(), &["merge", "/no/such/file"]);
    assert_eq!(missing.status.code(), Some(2), "{missing:?}");
    for call in [&["export", "profile"][..], &["export", "attempts", "to-a-file"]] {
        assert_eq!(program(home.path(), call).status.code(), Some(2));
    }
}

/// The program copied onto a stick, with and without a folder of its own there, run from another folder.
#[test]
fn the_home_is_named_or_beside_the_program() {
    let (stick, own, work) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let copied = stick.path().join("bedplate");
    fs::copy(env!("CARGO_BIN_EXE_bedplate"), &copied).unwrap();
    let file = file_of("R. Halloran", &["drain"], stick.path());
    fs::create_dir(work.path().join("bedplate-home")).unwrap();
    let has = |home: &Path| home.join("profiles").is_dir();
    let run = |arguments: &[&str], variable: Option<&Path>| {
        let mut command = Command::new(&copied);
        command.args(arguments).arg("merge").arg(&file).current_dir(work.path()).stdin(Stdio::null());
        command.env("HOME", own.path()).env_remove("XDG_DATA_HOME").env_remove("BEDPLATE_HOME").env("USER", "cadet7");
        command.envs(variable.map(|home| ("BEDPLATE_HOME", home)));
        let output = command.output().unwrap();
        assert!(output.status.success(), "{}", text(&output.stderr));
    };
    run(&[], None);
    assert_eq!(fs::read_dir(own.path()).unwrap().count(), 1, "the learner’s own");
    let beside = stick.path().join("bedplate-home");
    fs::create_dir(&beside).unwrap();
    run(&[], None);
    assert!(has(&beside));
    let [by_variable, named] = ["by-variable", "named"].map(|name| work.path().join(name));
    run(&[], Some(&by_variable));
    assert!(has(&by_variable));
    run(&["--home", "named"], Some(&by_variable));
    assert!(has(&named), "made where it is not there; a relative one counts from the working folder");
    assert_eq!(fs::read_dir(work.path().join("bedplate-home")).unwrap().count(), 0, "never the working folder’s");
}
