//! The program on a home folder of its own.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

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

/// The program's setup on a home: a profile by its folder, what its learner is called, and the time.
pub fn setup(home: &Path, profile: &str, learner: Option<&str>, clock: Clock) -> Setup {
    Setup {
        home: home.to_owned(),
        dir: home.join("profiles").join(profile),
        learner: learner.map(str::to_owned),
        ship: Default::default(),
        clock,
        wake: Arc::new(|| {}),
        reader: None,
    }
}

/// A clock that only the test moves.
pub fn by_hand(clock: &Arc<AtomicI64>) -> Clock {
    let clock = Arc::clone(clock);
    Arc::new(move || Instant(clock.load(Ordering::SeqCst)))
}

/// A clock that stands.
pub fn stopped(now: Instant) -> Clock {
    Arc::new(move || now)
}

/// What a learner tells the program first who is to keep a watch and has no date of an oral.
pub fn first_run(minutes: u32, watch: bool) -> Command {
    let certificate = Certificate::Watch;
    Command::Profile(ProfileCommand::FinishFirstRun { certificate, oral: None, minutes, watch })
}

/// The program as it stands once it has nothing more to do.
pub fn settled(setup: Setup) -> App {
    let mut app = App::start(setup);
    app.settle();
    app
}

/// The program on the profile `a` of a home, by a clock of the test's own.
pub fn opened(home: &Path, clock: Clock) -> App {
    settled(setup(home, "a", Some("R. Halloran"), clock))
}

/// The program at the usual time, past its first run.
pub fn started(home: &Path) -> App {
    started_at(home, NOW.0)
}

/// The program with the clock at so many milliseconds, past its first run.
pub fn started_at(home: &Path, now: i64) -> App {
    let mut app = opened(home, stopped(Instant(now)));
    if matches!(app.view().view, View::FirstRun(_)) {
        app.handle(first_run(30, false));
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
