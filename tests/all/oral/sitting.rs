//! A sitting of a mock oral through the program: typed, spoken, marked by a second person, broken off and gone on with;
//! and in the terminal on a pipe.

use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use assert_cmd::Command as Process;
use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{CardCommand, Command, OralCommand, ReportAs, ReportCommand, SettingsCommand};
use bedplate::app::program::route::Route;
use bedplate::domain::answer::Given;
use bedplate::domain::certificate::Certificate;
use bedplate::domain::day::Instant;
use bedplate::domain::oral::{Blueprint, Way};
use bedplate::domain::outcome::Notch;
use bedplate::present::View;
use bedplate::present::kinds::recall::{RecallAskedView, RecallMarkedView};
use bedplate::present::kinds::{AskedView, MarkedView};
use bedplate::present::oral::TakeUp;
use bedplate::present::stage::{Marked, Stage};

use crate::support::home::{NOW, begin_mock, opened, oral, started, terminal};

fn begin(app: &mut App, questions: usize, way: Way) {
    begin_mock(app, questions, way, 7);
}

/// Answers what stands, badly, by the way that is chosen; gives how many questions were asked.
fn answer_all(app: &mut App) -> usize {
    let mut asked = 0;
    while let Some(view) = oral(app) {
        asked += 1;
        assert!(asked < 60, "the sitting ends");
        match (&view.card.stage, view.way) {
            (Stage::Asked(AskedView::Recall(_)), Way::Write) => {
                app.handle(Command::Card(CardCommand::Submit(Given::Text("I do not know that".into()))))
            }
            (_, Way::Write) => {
                app.handle(Command::Oral(OralCommand::NothingToSay));
                app.settle();
                continue;
            }
            _ => app.handle(Command::Oral(OralCommand::FinishSpeaking)),
        }
        app.handle(Command::Card(CardCommand::Accept));
        app.settle();
    }
    asked
}

#[test]
fn a_typed_sitting_is_kept_counts_for_memory_and_is_debriefed() {
    let home = tempfile::tempdir().unwrap();
    let mut app = started(home.path());
    begin(&mut app, 3, Way::Write);
    let first = oral(&mut app).expect("a question stands");
    assert_eq!((first.asked.as_str(), first.number.as_str()), ("Lead question", "question 1 of 3"));
    assert!(first.answer.of > 0 && first.sitting.of > 0, "time limits are shown");
    let asked = answer_all(&mut app);
    let shell = app.view();
    let View::Debrief(debrief) = &shell.view else { panic!("no debrief: {:?}", shell.view) };
    assert_eq!(debrief.turns.len(), asked);
    assert!(!debrief.functions.iter().any(|row| row.passes), "nothing was known");
    assert!(debrief.headline.starts_with("Not passed: 0 %, pass mark 60 %"), "{}", debrief.headline);
    assert!(!debrief.missed.is_empty() && !debrief.study_cards.is_empty());
    drop(shell);
    app.handle(Command::Report(ReportCommand::WriteSitting(ReportAs::Csv)));
    let shell = app.view();
    assert!(shell.notice.as_ref().is_some_and(|n| n.text.contains("sitting-1.csv")), "{:?}", shell.notice);
    drop(shell);
    app.handle(Command::Report(ReportCommand::WriteSitting(ReportAs::Pdf)));
    let pdf = std::fs::read(home.path().join("profiles/a/reports/sitting-1.pdf")).expect("it is written");
    assert!(pdf.starts_with(b"%PDF-") && pdf.len() > 4_000, "{} bytes", pdf.len());
    // Lead questions are attempts: asked again after a restart, they are no longer unseen.
    drop(app);
    let mut app = started(home.path());
    app.handle(Command::Go(Route::OralFront));
    let shell = app.view();
    let View::OralFront(front) = &shell.view else { panic!("no front page") };
    assert_eq!((front.rows.len(), front.standing.is_none()), (1, true));
    drop(shell);
    drop(app);
    let exported = Process::cargo_bin("bedplate")
        .unwrap()
        .args(["export", "attempts", "--json", "--profile"])
        .arg(home.path().join("profiles/a"))
        .env("BEDPLATE_HOME", home.path())
        .output()
        .unwrap();
    let attempts = String::from_utf8_lossy(&exported.stdout).lines().count();
    assert_eq!(attempts, 3, "one for each lead question: {}", String::from_utf8_lossy(&exported.stderr));
}

#[test]
fn a_sitting_left_in_the_middle_goes_on_where_it_was() {
    let home = tempfile::tempdir().unwrap();
    let mut app = started(home.path());
    begin(&mut app, 3, Way::Write);
    app.handle(Command::Oral(OralCommand::NothingToSay));
    app.settle();
    let before = oral(&mut app).expect("the next question");
    // The program ends as if it were killed: nothing is said to the sitting.
    drop(app);
    let mut app = started(home.path());
    app.handle(Command::Go(Route::OralFront));
    assert!(matches!(&app.view().view, View::OralFront(front) if front.standing.is_some()));
    app.handle(Command::Oral(OralCommand::GoOn(Way::Write)));
    app.settle();
    let after = oral(&mut app).expect("the same question");
    assert_eq!((after.card.ask, after.number, after.thread.len()), (before.card.ask, before.number, 2));
    answer_all(&mut app);
    assert!(matches!(app.view().view, View::Debrief(_)));
}

#[test]
fn the_clock_stands_while_paused_and_on_another_page() {
    let home = tempfile::tempdir().unwrap();
    let mut app = started(home.path());
    begin(&mut app, 1, Way::Speak);
    app.handle(Command::Oral(OralCommand::Pause(true)));
    assert!(oral(&mut app).is_some_and(|view| view.paused && !view.card.clock_runs));
    app.handle(Command::Oral(OralCommand::Pause(false)));
    assert!(oral(&mut app).is_some_and(|view| !view.paused && view.card.clock_runs));
    app.handle(Command::Go(Route::Library));
    app.handle(Command::Go(Route::Oral));
    assert!(oral(&mut app).is_some_and(|view| view.paused));
    app.handle(Command::Oral(OralCommand::BreakOff));
    app.settle();
    assert!(matches!(&app.view().view, View::Debrief(view) if view.headline == "Nothing was answered"));
}

#[test]
fn a_second_person_ticks_notes_and_gives_the_outcome() {
    let home = tempfile::tempdir().unwrap();
    let mut app = started(home.path());
    begin(&mut app, 1, Way::Second);
    let view = oral(&mut app).expect("a question");
    let points = view.examiner.expect("the second person sees the points from the start");
    for point in &points {
        app.handle(Command::Card(CardCommand::Tick(point.number)));
    }
    app.handle(Command::Oral(OralCommand::FinishSpeaking));
    app.handle(Command::Oral(OralCommand::SetNote("Clear and calm.".to_owned())));
    let marked = oral(&mut app).expect("marked");
    let Stage::Marked(Marked { view: MarkedView::Recall(RecallMarkedView { points: shown, .. }), result }) =
        &marked.card.stage
    else {
        panic!("{:?}", marked.card.stage)
    };
    assert!(shown.iter().all(|point| point.said));
    let best = result.outcome;
    for _ in 0..3 {
        // A second person's own outcome, which no rule of a mock takes away.
        app.handle(Command::Card(CardCommand::SetNotch(Notch::Down)));
    }
    let moved = oral(&mut app).expect("still there");
    let Stage::Marked(Marked { view: MarkedView::Recall(_), result }) = &moved.card.stage else { panic!() };
    assert!(result.outcome < best, "moved by more than one step");
    app.handle(Command::Card(CardCommand::Accept));
    app.settle();
    answer_all(&mut app);
    let shell = app.view();
    let View::Debrief(debrief) = &shell.view else { panic!("no debrief") };
    assert_eq!(debrief.turns[0].note, "Clear and calm.");
    assert_eq!(debrief.turns[0].by, "marked by a second person");
    assert_eq!(debrief.turns[0].given, "Said aloud.");
}

#[test]
fn a_marked_answer_stays_as_it_was_given_when_the_next_is_to_be_spoken() {
    let home = tempfile::tempdir().unwrap();
    let mut app = started(home.path());
    begin(&mut app, 12, Way::Write);
    while oral(&mut app).expect("a recall").card.stage != Stage::Asked(AskedView::Recall(RecallAskedView)) {
        app.handle(Command::Oral(OralCommand::NothingToSay));
        app.settle();
    }
    app.handle(Command::Card(CardCommand::Submit(Given::Text("I do not know that".into()))));
    let marked = oral(&mut app).expect("marked");
    app.handle(Command::Oral(OralCommand::AnswerBy(Way::Speak)));
    app.handle(Command::Card(CardCommand::Tick(1)));
    let still = oral(&mut app).expect("marked");
    assert_eq!((&still.card, still.way), (&marked.card, Way::Write), "its missing points are not shown");
    app.handle(Command::Card(CardCommand::Accept));
    app.settle();
    assert_eq!(oral(&mut app).expect("the next question").way, Way::Speak);
    app.handle(Command::Oral(OralCommand::BreakOff));
    app.settle();
    let shell = app.view();
    let View::Debrief(debrief) = &shell.view else { panic!("no debrief") };
    assert_eq!(debrief.turns.last().expect("a turn").by, "marked by the program");
}

#[test]
fn a_blueprint_of_ones_own_holds_and_a_wrong_one_is_refused() {
    let home = tempfile::tempdir().unwrap();
    let mut app = started(home.path());
    let ours = Blueprint::standard(Certificate::Watch);
    let mut own = ours.clone();
    for share in &mut own.shares {
        share.weight = if share.competence == "A-III/1.4.5" { 1.0 } else { 0.0 };
    }
    app.handle(Command::Settings(SettingsCommand::SetBlueprint(Box::new(own.clone()))));
    begin(&mut app, 2, Way::Write);
    let view = oral(&mut app).expect("a question");
    assert_eq!(view.functions.len(), 1, "first aid alone: {:?}", view.functions);
    app.handle(Command::Oral(OralCommand::BreakOff));
    app.settle();
    own.shares.iter_mut().for_each(|share| share.weight = 0.0);
    app.handle(Command::Settings(SettingsCommand::SetBlueprint(Box::new(own))));
    let shell = app.view();
    assert!(shell.notice.as_ref().is_some_and(|n| n.text.contains("weight above 0")), "{:?}", shell.notice);
}

#[test]
fn in_the_terminal_the_same_seed_asks_the_same() {
    let sit = || {
        let home = tempfile::tempdir().unwrap();
        let arguments = ["oral", "--questions", "2", "--seed", "11", "--now", "2026-11-25T08:00:00Z"];
        let said = terminal(home.path(), &arguments, &"-\n".repeat(30));
        let report = terminal(home.path(), &["report", "last"], "");
        let wrong = terminal(home.path(), &["report", "9"], "");
        (said, report, wrong)
    };
    let (said, report, wrong) = sit();
    assert!(said.contains("Lead question · question 1 of 2") && said.contains("question 2 of 2"), "{said}");
    assert!(said.contains("Not passed: 0 %, pass mark 60 %"), "{said}");
    assert!(report.starts_with("# Debrief of sitting 1") && report.contains("not known"), "{report}");
    assert!(wrong.contains("no sitting `9`"), "{wrong}");
    assert_eq!(sit().0, said);
}

#[test]
fn in_the_terminal_a_sitting_is_left_and_gone_on_with() {
    let home = tempfile::tempdir().unwrap();
    let first = terminal(home.path(), &["oral", "--questions", "2", "--seed", "5"], "-\nstop\n");
    assert!(first.contains("left for later. Your answers are saved"), "{first}");
    let second = terminal(home.path(), &["oral"], &"-\n".repeat(30));
    assert!(second.contains("The sitting goes on.") && second.contains("Debrief of sitting 1"), "{second}");
}

/// The program with a clock that can be moved on, in hours from the usual time.
fn clocked(home: &std::path::Path, hours: &Arc<AtomicI64>) -> App {
    let clock = Arc::clone(hours);
    opened(home, Arc::new(move || Instant(NOW.0 + 3_600_000 * clock.load(Ordering::Relaxed))))
}

fn take_up(app: &mut App) -> Option<TakeUp> {
    app.handle(Command::Go(Route::OralFront));
    match &app.view().view {
        View::OralFront(front) => front.take_up.clone(),
        view => panic!("no front page: {view:?}"),
    }
}

#[test]
fn a_sitting_ended_by_hand_is_taken_up_again_on_the_same_day() {
    let home = tempfile::tempdir().unwrap();
    drop(started(home.path()));
    let hours = Arc::new(AtomicI64::new(0));
    let mut app = clocked(home.path(), &hours);
    begin(&mut app, 3, Way::Write);
    app.handle(Command::Oral(OralCommand::NothingToSay));
    app.settle();
    let before = oral(&mut app).expect("the second question");
    app.handle(Command::Oral(OralCommand::BreakOff));
    app.settle();
    let shell = app.view();
    let View::Debrief(debrief) = &shell.view else { panic!("no debrief: {:?}", shell.view) };
    assert!(debrief.early && debrief.about.ends_with("; ended early, after 1 of 3 questions"), "{}", debrief.about);
    assert!(debrief.headline.starts_with("Not passed so far: 0 %"), "{}", debrief.headline);
    let id = debrief.id.clone();
    drop(shell);
    // The program is started anew, and still knows that it was ended by hand.
    drop(app);
    hours.store(2, Ordering::Relaxed);
    let mut app = clocked(home.path(), &hours);
    let offered = take_up(&mut app).expect("it is offered on the front page");
    assert_eq!((offered.id.as_str(), offered.number), (id.as_str(), 1));
    assert_eq!(offered.words, "Sitting 1, ended early, after 1 of 3 questions");
    assert!(matches!(&app.view().view, View::OralFront(front) if front.standing.is_none()), "it is not merely left");
    app.handle(Command::Oral(OralCommand::Resume(id.clone(), Way::Write)));
    app.settle();
    let after = oral(&mut app).expect("it goes on");
    assert_eq!(after.thread, before.thread, "the thread stands where it stood");
    assert_eq!((&after.card.ask, &after.number), (&before.card.ask, &before.number));
    assert_eq!(after.card.stage, before.card.stage, "the same question, with the same figures in the same order");
    // Ended by hand once more: on another day it stays as it is.
    app.handle(Command::Oral(OralCommand::BreakOff));
    app.settle();
    assert!(take_up(&mut app).is_some());
    hours.store(26, Ordering::Relaxed);
    assert_eq!(take_up(&mut app), None, "that was yesterday's");
    app.handle(Command::Oral(OralCommand::Resume(id, Way::Write)));
    let shell = app.view();
    assert!(shell.notice.as_ref().is_some_and(|n| n.text.contains("ended on another day")), "{:?}", shell.notice);
    assert!(!matches!(shell.view, View::Oral(_)));
}

#[test]
fn a_sitting_that_was_taken_up_comes_to_its_own_end() {
    let home = tempfile::tempdir().unwrap();
    let mut app = started(home.path());
    begin(&mut app, 2, Way::Write);
    app.handle(Command::Oral(OralCommand::BreakOff));
    app.settle();
    let offered = take_up(&mut app).expect("it is offered");
    app.handle(Command::Oral(OralCommand::Resume(offered.id, Way::Write)));
    app.settle();
    answer_all(&mut app);
    let shell = app.view();
    let View::Debrief(debrief) = &shell.view else { panic!("no debrief") };
    assert!(!debrief.early && !debrief.about.contains("ended early"), "{}", debrief.about);
    drop(shell);
    assert_eq!(take_up(&mut app), None, "it is over");
}

#[test]
fn in_the_terminal_a_sitting_is_ended_and_taken_up_again() {
    let home = tempfile::tempdir().unwrap();
    let at = ["--now", "2026-11-25T08:00:00Z"];
    let with = |more: &[&str], input: &str| terminal(home.path(), &[&["oral"], more, &at].concat(), input);
    let ended = with(&["--questions", "2", "--seed", "5"], "-\nend\nn\nend\ny\n");
    assert!(
        ended.contains("End the sitting here?") && ended.contains("ended early, after 1 of 2 questions"),
        "{ended}"
    );
    assert!(ended.contains("`bedplate oral --take-up`"), "{ended}");
    let again = with(&["--take-up"], &"-\n".repeat(20));
    assert!(again.contains("The sitting goes on.") && again.contains("question 2 of 2"), "{again}");
    assert!(again.contains("Not passed: 0 %"), "{again}");
    let none = with(&["--take-up"], "");
    assert!(none.contains("no sitting was ended by hand today"), "{none}");
}
