//! The invented cadet: sixty days of study that every page can be looked at with, and the pages themselves: table, plan,
//! how well the program knows them, reports.

use std::path::Path;
use std::sync::{Arc, OnceLock};

use assert_cmd::Command as Process;
use bedplate::app::profile::demo;
use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{
    Command, PlanCommand, ReportAs, ReportCommand, SettingsCommand, TrainingCommand,
};
use bedplate::app::program::route::Route;
use bedplate::app::program::setup::Setup;
use bedplate::domain::day::{Instant, StudyDay};
use bedplate::present::View;
use bedplate::present::plan::PlanState;
use eframe::egui::Key;
use egui_kittest::kittest::Queryable;

use crate::support::home;
use crate::support::window::on;
use crate::ui::support::SIZES;

const NOW: Instant = Instant(1_800_000_000_000);

fn setup(home: &Path, now: Instant) -> Setup {
    home::setup(home, "a", None, Arc::new(move || now))
}

/// A home with the demonstration in it, made once.
pub fn made() -> &'static Path {
    static HOME: OnceLock<tempfile::TempDir> = OnceLock::new();
    let home = HOME.get_or_init(|| {
        let home = tempfile::tempdir().unwrap();
        let dir = demo::make(&setup(home.path(), NOW)).unwrap();
        assert!(dir.join("profile.sqlite").is_file());
        assert_eq!(demo::make(&setup(home.path(), NOW)).unwrap(), dir, "it is made once");
        home
    });
    home.path()
}

/// The program on a copy of it, at the end of its sixty days.
pub fn copied_now() -> (tempfile::TempDir, App) {
    copied(NOW)
}

/// The program on a copy of it.
fn copied(now: Instant) -> (tempfile::TempDir, App) {
    let from = made().join("profiles/demo-r-halloran");
    let home = tempfile::tempdir().unwrap();
    let to = home.path().join("profiles/a");
    std::fs::create_dir_all(&to).unwrap();
    for file in std::fs::read_dir(from).unwrap().map(Result::unwrap) {
        if file.path().is_file() {
            std::fs::copy(file.path(), to.join(file.file_name())).unwrap();
        }
    }
    crate::support::bundled::share_in(home.path());
    let mut app = App::start(setup(home.path(), now));
    app.settle();
    (home, app)
}

fn at(app: &mut App, route: Route) {
    app.handle(Command::Go(route));
    app.settle();
}

#[test]
fn sixty_days_fill_the_table_its_trends_and_the_chance() {
    let (_home, mut app) = copied(NOW);
    at(&mut app, Route::Competence);
    let shell = app.view();
    let View::Competence(view) = &shell.view else { panic!("{:?}", shell.view) };
    assert!(shell.rail.learner.contains("demo"), "it says what it is");
    let rows: Vec<_> = view.bands.iter().flat_map(|band| &band.rows).collect();
    let met: usize = rows.iter().map(|row| row.met).sum();
    assert!(met > 300, "{met}");
    for row in &rows {
        assert!(row.today.is_some() && row.trend.len() == 8 && row.trend[7].is_some(), "{row:?}");
        // The trend ends today with what the table says of today.
        assert!((row.trend[7].unwrap() - row.today.unwrap()).abs() < 0.02, "{row:?}");
    }
    assert!(rows.iter().any(|row| !row.missed.is_empty()), "points that were missed more than once are named");
    let count = rows.len();
    let chance = view.chance.as_ref().expect("it is worked out");
    let range = chance.range.as_ref().expect("sixty days and five mock orals are enough to say one");
    assert!(!chance.costs.is_empty() && range.contains('%'), "{chance:?}");
    drop(shell);
    for (form, name) in
        [(ReportAs::Pdf, "progress.pdf"), (ReportAs::Markdown, "progress.md"), (ReportAs::Csv, "progress.csv")]
    {
        app.handle(Command::Report(ReportCommand::WriteProgress(form)));
        let notice = app.view().notice.clone().expect("it says where");
        assert!(notice.text.contains(name), "{notice:?}");
    }
    let reports = _home.path().join("profiles/a/reports");
    let text = std::fs::read_to_string(reports.join("progress.md")).unwrap();
    assert!(
        text.contains("Hours of answering") && text.contains("## Mock orals") && text.contains("rose by"),
        "{text}"
    );
    assert!(std::fs::read(reports.join("progress.pdf")).unwrap().starts_with(b"%PDF-"));
    let csv = std::fs::read_to_string(reports.join("progress.csv")).unwrap();
    assert_eq!(csv.lines().count(), 1 + count);
}

/// Their answers were given and marked as a learner's are: a calculation stands there with its figures.
#[test]
fn the_sittings_of_the_demonstration_read_like_sittings() {
    let (_home, mut app) = copied(NOW);
    at(&mut app, Route::OralFront);
    let ids: Vec<String> = match &app.view().view {
        View::OralFront(front) => front.rows.iter().map(|row| row.id.clone()).collect(),
        other => panic!("{other:?}"),
    };
    assert_eq!(ids.len(), 5);
    let mut by_the_program = 0;
    for id in ids {
        at(&mut app, Route::Debrief(id));
        let shell = app.view();
        let View::Debrief(debrief) = &shell.view else { panic!("{:?}", shell.view) };
        assert!(debrief.turns.len() >= 10, "{}", debrief.about);
        for turn in &debrief.turns {
            assert!(!turn.ask.contains('{'), "{}", turn.ask);
            assert!(!turn.marks.is_empty() && !turn.given.is_empty(), "{turn:?}");
            by_the_program += usize::from(turn.by == "marked by the program");
        }
    }
    assert!(by_the_program > 0, "a calculation or a drawing is set on the sheet before any examiner");
}

#[test]
fn the_plan_is_worked_out_tried_kept_and_followed() {
    let (home, mut app) = copied(NOW);
    at(&mut app, Route::Plan);
    let ready = |app: &mut App| match &app.view().view {
        View::Plan(view) => match &view.state {
            PlanState::Ready(plan) => (view.minutes, plan.clone()),
            other => panic!("{other:?}"),
        },
        other => panic!("{other:?}"),
    };
    let (minutes, plan) = ready(&mut app);
    assert_eq!((minutes, plan.days, plan.load.len(), plan.kept), (30, 41, 41, false));
    let (first, last) = (plan.chance[0], plan.chance[plan.chance.len() - 1]);
    assert_eq!((first.in_days, last.in_days), (0, 41));
    // What the mock orals said so well fades until the day; study holds against it, more than no study would.
    assert!(last.middle > 0.5 * first.middle, "{first:?} {last:?}");
    at(&mut app, Route::Competence);
    let shell = app.view();
    let View::Competence(idle) = &shell.view else { panic!("{:?}", shell.view) };
    let ends = |range: &str| -> Vec<f64> {
        range.trim_end_matches(" %").split('–').map(|end| end.parse().expect("a figure")).collect()
    };
    let range = |range: &Option<String>| ends(range.as_deref().expect("enough is known"));
    let (with, without) = (range(&plan.range), range(&idle.chance.as_ref().expect("it is worked out").range));
    assert!(with[0] > without[0] && with[1] > without[1], "with the plan {with:?}, without any study {without:?}");
    at(&mut app, Route::Plan);
    // An answer that is begun within the thirty minutes may end beyond them.
    assert!(plan.load.iter().all(|minutes| *minutes < 34.0), "{:?}", plan.load);
    // Five minutes a day are not enough, and it says so.
    app.handle(Command::Plan(PlanCommand::TryMinutes(5)));
    app.settle();
    let (minutes, little) = ready(&mut app);
    assert_eq!(minutes, 5);
    assert!(little.chance.last().unwrap().middle < last.middle, "less time, less chance");
    app.handle(Command::Plan(PlanCommand::TryMinutes(30)));
    // Stopped while it is worked out, it says so, and begins again when asked.
    app.view();
    app.handle(Command::Plan(PlanCommand::Stop));
    assert!(matches!(&app.view().view, View::Plan(view) if view.state == PlanState::Stopped));
    app.handle(Command::Plan(PlanCommand::TryMinutes(30)));
    app.settle();
    app.handle(Command::Plan(PlanCommand::Keep));
    app.settle();
    let (_, kept) = ready(&mut app);
    assert!(kept.kept);
    drop(app);
    let mut app = App::start(setup(home.path(), NOW));
    app.settle();
    at(&mut app, Route::Plan);
    assert!(ready(&mut app).1.kept, "it is kept over a restart");
    at(&mut app, Route::Watch);
    let shell = app.view();
    let View::WatchFront(front) = &shell.view else { panic!("{:?}", shell.view) };
    assert!(front.headline.contains("minutes"), "{}", front.headline);
}

#[test]
fn after_the_oral_its_result_is_asked_once() {
    // The oral of the demonstration is 41 days on; this is 43 days on.
    let later = Instant(NOW.0 + 43 * 86_400_000);
    let (home, mut app) = copied(later);
    let shell = app.view();
    let View::Plan(view) = &shell.view else { panic!("it is asked at once: {:?}", shell.view) };
    assert!(matches!(&view.state, PlanState::Over(_)), "{:?}", view.state);
    drop(shell);
    app.handle(Command::Plan(PlanCommand::RecordOralResult(Some(false))));
    app.settle();
    let shell = app.view();
    let View::Plan(view) = &shell.view else { panic!("{:?}", shell.view) };
    let PlanState::Upkeep { results, .. } = &view.state else { panic!("{:?}", view.state) };
    assert_eq!(results.len(), 1, "{results:?}");
    assert!(results[0].ends_with("not passed"), "{results:?}");
    drop(shell);
    drop(app);
    let mut app = App::start(setup(home.path(), later));
    app.settle();
    assert!(matches!(app.view().view, View::WatchFront(_)), "and not again");
    let day = StudyDay(later.study_day(Default::default()).0 + 30);
    app.handle(Command::Settings(SettingsCommand::SetOral(Some(day))));
    at(&mut app, Route::Plan);
    assert!(matches!(&app.view().view, View::Plan(view) if matches!(view.state, PlanState::Ready(_))));
}

#[test]
fn it_tells_how_well_it_knows_the_learner_and_learns_their_memory() {
    let (home, mut app) = copied(NOW);
    at(&mut app, Route::Knowing);
    let fits = |app: &mut App| match &app.view().view {
        View::Knowing(view) => (view.own, view.fits.clone().expect("worked out")),
        other => panic!("{other:?}"),
    };
    let (own, before) = fits(&mut app);
    assert!(!own && before[0].bins.len() > 3 && !before[0].facts.is_empty());
    let answers: usize = before[0].bins.iter().map(|bin| bin.count).sum();
    assert!(before[0].sentence.contains("answers"), "{}", before[0].sentence);
    app.handle(Command::Training(TrainingCommand::Begin));
    app.settle();
    let (own, after) = fits(&mut app);
    let told = app.view().notice.clone().expect("it says what came of it");
    assert!(own && told.text.contains("better"), "sixty days are enough to learn from: {told:?}");
    assert_ne!(before[0].bins, after[0].bins, "forecasts are those of the new memory");
    assert_eq!(after[0].bins.iter().map(|bin| bin.count).sum::<usize>(), answers);
    app.handle(Command::Training(TrainingCommand::Forget));
    app.settle();
    drop(app);
    let mut app = App::start(setup(home.path(), NOW));
    app.settle();
    at(&mut app, Route::Knowing);
    let (own, again) = fits(&mut app);
    assert!(!own);
    assert_eq!(again[0].bins, before[0].bins, "the published memory predicts as before");
}

#[test]
fn plan_and_knowing_are_walked_by_keys_at_every_size() {
    for size in SIZES {
        let (_home, mut app) = copied(NOW);
        at(&mut app, Route::Competence);
        let (mut bench, _) = on(app, size);
        bench.key(Key::W);
        assert!(bench.shows("How well does this program know you?"), "{size}");
        assert!(bench.harness.query_by_label_contains("In watches: predicted").is_some(), "{size}: the bins are told");
        bench.key(Key::Escape);
        assert!(bench.shows("Chance of passing"), "{size}: Escape leads back");
        bench.harness.get_by_label("Plan").click();
        bench.harness.run();
        assert!(bench.shows("From today to the oral"), "{size}");
        bench.key(Key::ArrowRight).key(Key::ArrowRight);
        assert!(bench.shows("minutes; chance"), "{size}: a day's values by key");
        bench.key(Key::Plus);
        assert!(bench.commands().contains(&Command::Plan(PlanCommand::TryMinutes(35))), "{size}");
        bench.key(Key::Enter);
        assert!(bench.shows("The plan is kept"), "{size}");
    }
}

#[test]
fn the_commands_print_the_plan_and_the_progress() {
    let profile = made().join("profiles/demo-r-halloran");
    let run = |arguments: &[&str]| {
        let out = Process::cargo_bin("bedplate")
            .unwrap()
            .args(arguments)
            .arg("--profile")
            .arg(&profile)
            .env("BEDPLATE_HOME", made())
            .output()
            .unwrap();
        (
            out.status.code(),
            String::from_utf8_lossy(&out.stdout).into_owned(),
            String::from_utf8_lossy(&out.stderr).into_owned(),
        )
    };
    let (code, out, err) = run(&["report", "progress", "--csv"]);
    assert!(code == Some(0) && out.starts_with("learner,function,"), "{out}{err}");
    let (code, out, err) = run(&["report", "last"]);
    assert!(code == Some(0) && out.starts_with("# Debrief of sitting 5"), "{out}{err}");
    let file = made().join("last.pdf");
    let (code, out, err) = run(&["report", "last", "--pdf", &file.to_string_lossy()]);
    assert!(code == Some(0) && out.is_empty(), "{out}{err}");
    assert!(std::fs::read(&file).unwrap().starts_with(b"%PDF-"));
    // In the terminal a watch is stood even when the oral is past and its result not told.
    let (copy, _) = copied(NOW);
    let out = Process::cargo_bin("bedplate")
        .unwrap()
        .args(["watch", "--now", "2027-02-27T08:00:00Z", "--profile"])
        .arg(copy.path().join("profiles/a"))
        .env("BEDPLATE_HOME", copy.path())
        .write_stdin("stop\n")
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&out.stdout);
    assert!(out.status.success() && said.contains("0 of "), "{said}{}", String::from_utf8_lossy(&out.stderr));
    // The computer's clock lies before the demonstration's, whose oral is then far off; the plan is still one.
    let (code, out, err) = run(&["plan", "--json", "--minutes", "20"]);
    assert_eq!(code, Some(0), "{err}");
    let plan: serde_json::Value = serde_json::from_str(&out).expect("it is JSON");
    assert_eq!(plan["minutes_a_day"], 20);
    assert!(plan["chance"].as_array().is_some_and(|points| points.len() > 2), "{out}");
}
