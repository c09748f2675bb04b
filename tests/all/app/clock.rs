//! A clock that cannot be right is noticed before anything is kept by it, in the window and in the terminal.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{
    CardCommand, ClockCommand, Command, ProfileCommand, SettingsCommand, WatchCommand,
};
use bedplate::app::program::route::Route;
use bedplate::domain::answer::Given;
use bedplate::domain::certificate::Certificate;
use bedplate::domain::day::Instant;
use bedplate::present::clock::ClockState;
use bedplate::present::{ClockView, View};
use bedplate::store::{OpenOptions, Store};

use crate::support::home;
use eframe::egui::Key;

const HOUR_MS: i64 = 3_600_000;
const DAY_MS: i64 = 24 * HOUR_MS;
/// 2026-11-30T12:00Z.
const NOON: i64 = 20_787 * DAY_MS + 12 * HOUR_MS;
/// 2037-03-12T12:00Z.
const IN_2037: i64 = 24_542 * DAY_MS + 12 * HOUR_MS;

/// A program whose clock and whose steady count the test moves.
struct Bench {
    app: App,
    clock: Arc<AtomicI64>,
    steady: Arc<AtomicI64>,
    home: tempfile::TempDir,
}

impl Bench {
    fn new() -> Self {
        Self::at(tempfile::tempdir().expect("a temporary folder"), NOON)
    }

    fn at(home: tempfile::TempDir, now: i64) -> Self {
        let (clock, steady) = (Arc::new(AtomicI64::new(now)), Arc::new(AtomicI64::new(5_000)));
        let (_ticking, counting) = (Arc::clone(&clock), Arc::clone(&steady));
        crate::support::bundled::share_in(home.path());
        let app = App::start(home::setup(home.path(), "e-dunmore", Some("E. Dunmore"), home::by_hand(&clock)));
        let mut app = app.with_steady(Arc::new(move || Instant(counting.load(Ordering::SeqCst))));
        app.settle();
        if matches!(app.view().view, View::FirstRun(_)) {
            let certificate = Certificate::Watch;
            app.command(Command::Profile(ProfileCommand::FinishFirstRun {
                certificate,
                oral: None,
                minutes: 10,
                watch: false,
            }));
            app.settle();
        }
        Self { app, clock, steady, home }
    }

    /// Closed, and started again by this clock.
    fn restart(self, now: i64) -> Self {
        let Self { app, home, .. } = self;
        drop(app);
        Self::at(home, now)
    }

    fn pass(&self, ms: i64) {
        self.clock.fetch_add(ms, Ordering::SeqCst);
        self.steady.fetch_add(ms, Ordering::SeqCst);
    }

    fn leap(&self, to: i64) {
        self.clock.store(to, Ordering::SeqCst);
    }

    fn run(&mut self, command: Command) {
        self.app.command(command);
        self.app.settle();
    }

    fn question(&mut self) -> Option<ClockView> {
        match &self.app.view().view {
            View::Clock(view) => Some((**view).clone()),
            _ => None,
        }
    }

    /// Marks the card on the sheet as it comes, unanswered.
    fn mark(&mut self) {
        if !matches!(self.app.view().view, View::WatchCard(_)) {
            self.run(Command::Watch(WatchCommand::Stand { shorter: false }));
        }
        for given in [Given::Said(vec![]), Given::Text("no idea".into()), Given::Links(vec![])] {
            self.run(Command::Card(CardCommand::Submit(given)));
        }
        let shell = self.app.view();
        let View::WatchCard(card) = &shell.view else { panic!("no card: {:?}", shell.view) };
        assert!(!card.stage.is_asked(), "marked: {:?}", card.stage);
    }

    fn answer(&mut self) {
        self.mark();
        self.pass(20_000);
        self.run(Command::Card(CardCommand::Accept));
    }

    /// The days on which answers were kept, in order.
    fn kept(&self) -> Vec<i64> {
        kept(self.home.path())
    }
}

/// By a look into the file, since the program holds it open.
fn kept(home: &Path) -> Vec<i64> {
    let file = home.join("profiles/e-dunmore/profile.sqlite");
    let db = rusqlite::Connection::open_with_flags(file, rusqlite::OpenFlags::SQLITE_OPEN_READ_ONLY).expect("a file");
    let mut rows = db.prepare("SELECT at_ms FROM attempt ORDER BY at_ms").expect("its attempts");
    let all = rows.query_map([], |row| row.get::<_, i64>(0)).expect("read");
    all.map(|at| at.expect("a time").div_euclid(DAY_MS)).collect()
}

#[test]
fn a_start_long_after_the_last_answer_asks_before_anything_is_kept() {
    let mut bench = Bench::new();
    bench.answer();
    let mut bench = bench.restart(NOON + 59 * DAY_MS);
    assert_eq!(bench.question(), None, "a leave");
    let mut bench = bench.restart(IN_2037);
    let asked = bench.question().expect("it is asked");
    assert_eq!(
        asked.paragraphs[0],
        "The computer’s clock says 12 March 2037, 12:00 (UTC). Your last answer was on 30 November 2026. \
         Is the date right?"
    );
    for command in [
        Command::Go(Route::Library),
        Command::Watch(WatchCommand::Stand { shorter: false }),
        Command::Settings(SettingsCommand::SetMinutes(40)),
    ] {
        bench.run(command);
        assert!(bench.question().is_some(), "nothing else is done before");
    }
    bench.run(Command::Clock(ClockCommand::SetClock));
    assert_eq!(bench.question().map(|view| view.state), Some(ClockState::Setting));
    // The learner sets it; the program sees that by itself.
    bench.leap(NOON + DAY_MS);
    bench.app.tick();
    assert_eq!(bench.question(), None);
    bench.answer();
    assert_eq!(bench.kept(), [20_787, 20_788]);
}

#[test]
fn a_learner_who_says_that_the_date_is_right_is_believed() {
    let mut bench = Bench::new();
    bench.answer();
    let mut bench = bench.restart(NOON + 200 * DAY_MS);
    bench.run(Command::Clock(ClockCommand::DateIsRight));
    assert_eq!(bench.question(), None);
    bench.answer();
    assert_eq!(bench.kept(), [20_787, 20_987]);
    let mut bench = bench.restart(NOON + 201 * DAY_MS);
    assert_eq!(bench.question(), None, "and not asked again");
}

/// One watch dated 2037 by a wrong clock, and its cards would come back in 2038.
#[test]
fn answers_of_a_wrong_day_can_be_taken_back() {
    let mut bench = Bench::new();
    bench.answer();
    let mut bench = bench.restart(IN_2037);
    bench.run(Command::Clock(ClockCommand::DateIsRight));
    bench.answer();
    bench.answer();
    let mut bench = bench.restart(NOON + DAY_MS);
    let asked = bench.question().expect("it is asked");
    assert!(asked.paragraphs[0].contains("Your last answer was later: on 12 March 2037"), "{:?}", asked.paragraphs);
    bench.run(Command::Clock(ClockCommand::DateIsRight));
    let later = bench.question().expect("what becomes of the answers");
    assert_eq!(later.state, ClockState::Later(2));
    assert!(later.paragraphs[0].contains("2 answers on 12 March 2037"), "{:?}", later.paragraphs);
    // Left as they are they are asked about again at the next start.
    bench.run(Command::Clock(ClockCommand::LeaveLater));
    assert_eq!(bench.question(), None);
    let mut bench = bench.restart(NOON + DAY_MS + HOUR_MS);
    bench.run(Command::Clock(ClockCommand::DateIsRight));
    bench.run(Command::Clock(ClockCommand::TakeBackLater));
    assert_eq!(bench.question(), None);
    let notice = bench.app.view().notice.clone().map(|notice| notice.text);
    assert_eq!(notice.as_deref(), Some("Two answers with a later date are taken back."));
    assert_eq!(bench.kept().len(), 3, "nothing is deleted");
    let mut bench = bench.restart(NOON + 2 * DAY_MS);
    assert_eq!(bench.question(), None, "the last answer that counts is of yesterday");
    bench.answer();
    let Bench { app, home, .. } = bench;
    drop(app);
    let dir = home.path().join("profiles/e-dunmore");
    let opened =
        Store::open(OpenOptions { dir, now: Instant(NOON + 2 * DAY_MS), wake: Arc::new(|| {}) }).expect("opened");
    let latest = opened.memory.iter().map(|(_, memory)| memory.due.0).max().expect("cards");
    assert!(latest < 20_787 + 400, "no card comes back in 2038: {latest}");
}

#[test]
fn an_answer_is_not_kept_by_a_clock_that_leaps_before_it_is_accepted() {
    let mut bench = Bench::new();
    bench.answer();
    bench.mark();
    bench.leap(IN_2037);
    bench.run(Command::Card(CardCommand::Accept));
    let asked = bench.question().expect("it is asked");
    assert!(asked.paragraphs[0].contains("changed while the program ran: before, it was 30 November 2026, 12:00"));
    assert_eq!(bench.kept(), [20_787]);
    bench.leap(NOON + 20_000);
    bench.app.tick();
    assert_eq!(bench.question(), None, "set right again");
    bench.run(Command::Card(CardCommand::Accept));
    assert_eq!(bench.kept(), [20_787, 20_787], "the answer has waited on the sheet");
}

#[test]
fn a_leap_between_two_frames_is_seen_and_a_night_with_the_window_open_is_none() {
    let mut bench = Bench::new();
    bench.answer();
    bench.pass(90 * DAY_MS);
    bench.app.tick();
    assert_eq!(bench.question(), None, "time itself has passed");
    bench.leap(NOON + 90 * DAY_MS + 40_000 - HOUR_MS / 2);
    bench.app.tick();
    assert_eq!(bench.question(), None, "a small change is none");
    bench.leap(NOON + 80 * DAY_MS);
    bench.app.tick();
    assert!(bench.question().is_some(), "put back");
    assert!(bench.app.tick().is_some_and(|wait| wait.as_secs() <= 5), "it is looked at again soon");
}

#[test]
fn a_clock_that_stands_at_its_first_day_is_asked_about_at_the_first_start() {
    let mut bench = Bench::at(tempfile::tempdir().expect("a temporary folder"), 946_684_800_000);
    let asked = bench.question().expect("it is asked");
    assert!(asked.paragraphs[0].contains("says 1 January 2000, 00:00"), "{:?}", asked.paragraphs);
    bench.leap(NOON);
    bench.app.tick();
    assert!(matches!(bench.app.view().view, View::FirstRun(_)));
}

/// In the window, at each size: Enter pressed without reading vouches for nothing.
#[test]
fn the_question_is_answered_by_keys() {
    for size in crate::ui::support::SIZES {
        let mut bench = Bench::new();
        bench.answer();
        let Bench { app, home: _home, .. } = bench.restart(IN_2037);
        let mut window = crate::ui::support::Bench::driving(Box::new(app), std::rc::Rc::default(), size, 0.25);
        for words in ["Is the date right?", "says 12 March 2037", "The date is right", "I will set the clock"] {
            assert!(window.shows(words), "{words} at {size}");
        }
        window.key(Key::Enter);
        assert!(window.shows("Set the computer’s clock") && window.shows("The date is right"), "{size}");
        window.key(Key::D);
        assert!(!window.shows("The date is right"), "{size}: the page behind it");
    }
}

#[test]
fn a_time_given_on_the_command_line_is_taken() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let watch = |now: &str| {
        let mut program = assert_cmd::Command::cargo_bin("bedplate").expect("the program is built");
        program.env("BEDPLATE_HOME", home.path()).args(["watch", "--cards", "1", "--now", now, "--profile"]);
        let profile = home.path().join("profiles/e-dunmore");
        let output = program.arg(profile).write_stdin("\n\n\n\n\n").output().expect("it runs");
        String::from_utf8_lossy(&output.stdout).into_owned()
    };
    assert!(watch("2026-11-25T08:00:00Z").contains("Kept."));
    assert!(watch("2037-03-12T08:00:00Z").contains("Kept."));
    let mut days = kept(home.path());
    days.dedup();
    assert_eq!(days, [20_782, 24_542]);
}

#[test]
fn a_watch_in_the_terminal_says_it_and_asks() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let profile = home.path().join("profiles/e-dunmore");
    let watch = |now: Option<&str>, typed: &str| {
        let mut program = assert_cmd::Command::cargo_bin("bedplate").expect("the program is built");
        program.env("BEDPLATE_HOME", home.path()).args(["watch", "--cards", "1", "--profile"]).arg(&profile);
        program.args(now.into_iter().flat_map(|now| ["--now", now]));
        program.write_stdin(typed.to_owned()).output().expect("it runs")
    };
    // The computer's own clock cannot stand in 2090 while this is tested.
    watch(Some("2090-01-01T08:00:00Z"), "\n\n");
    let before = kept(home.path()).len();
    assert_eq!(before, 1);
    let refused = watch(None, "n\n");
    let said = String::from_utf8_lossy(&refused.stdout);
    assert!(said.contains("Is the date right?") && said.contains("1 January 2090"), "{said}");
    assert_eq!(refused.status.code(), Some(2));
    let error = String::from_utf8_lossy(&refused.stderr);
    assert!(error.contains("set the date and the time"), "{error}");
    assert_eq!(kept(home.path()).len(), 1, "nothing was kept");
    let believed = watch(None, "y\nn\n\n\n");
    let said = String::from_utf8_lossy(&believed.stdout);
    assert!(said.contains("1 answer on 1 January 2090") && said.contains("Kept."), "{said}");
    assert_eq!(kept(home.path()).len(), 2);
}

/// An input that is one line without an end, as `/dev/zero` is.
#[cfg(target_os = "linux")]
#[test]
fn a_watch_on_an_input_without_end_ends_within_half_a_gigabyte() {
    let home = tempfile::tempdir().expect("a temporary folder");
    for command in ["watch", "oral"] {
        let output = std::process::Command::new("sh")
            .arg("-c")
            .arg("ulimit -v 2097152 && exec \"$0\" \"$1\" --profile \"$2\" < /dev/zero")
            .arg(assert_cmd::cargo::cargo_bin("bedplate"))
            .arg(command)
            .arg(home.path().join("profiles/e-dunmore"))
            .env("BEDPLATE_HOME", home.path())
            .output()
            .expect("a shell");
        let said = String::from_utf8_lossy(&output.stdout);
        assert!(said.contains("one line without an end"), "{said} {}", String::from_utf8_lossy(&output.stderr));
        assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    }
}
