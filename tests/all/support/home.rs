//! The program on a home folder of its own.

use std::path::Path;
use std::sync::Arc;

use assert_cmd::Command as Process;
use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{Command, ProfileCommand};
use bedplate::app::program::setup::Clock;
use bedplate::app::program::setup::Setup;
use bedplate::domain::certificate::Certificate;
use bedplate::domain::day::Instant;
use bedplate::domain::oral::{Draw, Length, Manner, OralChoice, Way};
use bedplate::present::{OralView, View};

/// The usual time of tests.
pub const NOW: Instant = Instant(1_800_000_000_000);

/// The program on the profile `a` of a home, by a clock of the test's own.
pub fn opened(home: &Path, clock: Clock) -> App {
    let mut app = App::start(Setup {
        home: home.to_owned(),
        dir: home.join("profiles/a"),
        learner: Some("R. Halloran".to_owned()),
        ship: Default::default(),
        clock,
        wake: Arc::new(|| {}),
    });
    app.settle();
    app
}

/// The program at the usual time, past its first run.
pub fn started(home: &Path) -> App {
    started_at(home, NOW.0)
}

/// The program with the clock at so many milliseconds, past its first run.
pub fn started_at(home: &Path, now: i64) -> App {
    let mut app = opened(home, Arc::new(move || Instant(now)));
    if matches!(app.view().view, View::FirstRun(_)) {
        let first = Command::Profile(ProfileCommand::FinishFirstRun {
            certificate: Certificate::Watch,
            oral: None,
            minutes: 30,
            watch: false,
        });
        app.handle(first);
        app.settle();
    }
    app
}

/// Begins a mock of so many lead questions by a steady examiner.
pub fn begin_mock(app: &mut App, questions: usize, way: Way, seed: u64) {
    let choice = OralChoice { draw: Draw::Mock, manner: Manner::Steady, length: Length::Questions(questions), way };
    app.begin_oral(choice, Some(seed));
    app.settle();
}

/// The sitting in front; none where another page is.
pub fn oral(app: &mut App) -> Option<OralView> {
    match &app.view().view {
        View::Oral(view) => Some((**view).clone()),
        _ => None,
    }
}

/// What the program prints in the terminal, output and errors together.
pub fn terminal(home: &Path, arguments: &[&str], input: &str) -> String {
    let output = Process::cargo_bin("bedplate")
        .unwrap()
        .args(arguments)
        .env("BEDPLATE_HOME", home)
        .write_stdin(input)
        .output()
        .unwrap();
    format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}
