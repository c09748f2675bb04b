//! A learner who gives no name has none in reports: what the computer calls its user is no name.

use std::path::Path;

use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{Command, ProfileCommand, SettingsCommand};
use bedplate::app::program::setup::Setup;
use bedplate::domain::day::Instant;
use bedplate::present::View;
use bedplate::store::profiles;

fn bedplate(home: &Path, name: Option<&str>, arguments: &[&str]) -> String {
    let mut program = assert_cmd::Command::cargo_bin("bedplate").expect("the program is built");
    program.env("BEDPLATE_HOME", home).env("USER", "cadet7").env_remove("BEDPLATE_LEARNER").args(arguments);
    if let Some(name) = name {
        program.env("BEDPLATE_LEARNER", name);
    }
    let output = program.write_stdin("-\n".repeat(60)).output().expect("it runs");
    assert!(output.status.success(), "{arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8_lossy(&output.stdout).into_owned()
}

#[test]
fn a_report_without_a_name_says_so() {
    for (name, candidate) in [(None, "not named"), (Some("D. N. Larsen"), "D. N. Larsen")] {
        let home = tempfile::tempdir().expect("a temporary folder");
        bedplate(home.path(), name, &["oral", "--questions", "1", "--seed", "3"]);
        let report = bedplate(home.path(), name, &["report", "last"]);
        let line = report.lines().find(|line| line.contains("Candidate")).expect("who sat it");
        assert!(line.contains(candidate), "{line}");
        assert!(!report.contains("cadet7") && !report.contains("Engineer,"), "{report:.400}");
    }
}

#[test]
fn the_name_of_the_first_page_is_kept_and_a_named_profile_brings_its_own() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let named = |folder: &str| {
        let mut app = App::start(Setup {
            home: home.path().to_owned(),
            dir: home.path().join("profiles").join(folder),
            learner: None,
            ship: bedplate::domain::day::ShipOffset::from_minutes(180).expect("an offset"),
            clock: std::sync::Arc::new(|| Instant(1_800_000_000_000)),
            wake: std::sync::Arc::new(|| {}),
            reader: None,
        });
        app.settle();
        app
    };
    let first = |app: &mut App| match &app.view().view {
        View::FirstRun(first) => first.name.clone(),
        other => panic!("no first page: {other:?}"),
    };
    let unnamed = profiles::create_unnamed(home.path(), "cadet7").expect("a folder");
    assert_eq!(unnamed.learner, "");
    let mut app = named(&unnamed.folder);
    assert_eq!(first(&mut app), "");
    assert_eq!(app.view().rail.learner, "Not named");
    app.handle(Command::Settings(SettingsCommand::SetLearner("D. N. Larsen".into())));
    app.settle();
    assert_eq!(first(&mut app), "D. N. Larsen");
    drop(app);
    let made = profiles::create(home.path(), "E. Dunmore").expect("a folder");
    let mut app = named(&made.folder);
    assert_eq!(first(&mut app), "E. Dunmore", "as it was typed on the page of profiles");
    let certificate = bedplate::domain::certificate::Certificate::Watch;
    app.handle(Command::Profile(ProfileCommand::FinishFirstRun { certificate, oral: None, minutes: 30, watch: false }));
    app.settle();
    assert_eq!(app.view().rail.offset, "UTC+3", "and the computer's own zone is its first ship's time");
}
