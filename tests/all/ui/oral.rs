//! The mock oral and the competence table in the window, on the real program, by keys and by accessible names.

use std::path::Path;

use bedplate::app::program::Program;
use bedplate::app::program::command::{Command, OralCommand, WatchCommand};
use bedplate::app::program::route::Route;
use bedplate::domain::oral::Way;
use bedplate::present::View;
use eframe::egui::{Key, Vec2};
use egui_kittest::kittest::Queryable;

use crate::support::home::{NOW, begin_mock, started, started_at};
use crate::support::window::on;
use crate::ui::support::{Bench, SIZES};

fn bench(home: &Path, route: Route, size: Vec2) -> Bench {
    let mut app = started(home);
    app.handle(Command::Go(route));
    app.settle();
    on(app, size).0
}

#[test]
fn a_sitting_with_a_second_person_is_sat_by_keys_alone() {
    for size in SIZES {
        let home = tempfile::tempdir().unwrap();
        // The seed is the time: from this one the first question is one that can be told.
        let mut app = started_at(home.path(), NOW.0 + 1);
        app.handle(Command::Go(Route::OralFront));
        app.settle();
        let mut bench = on(app, size).0;
        bench.key(Key::Enter);
        assert!(bench.shows("question 1 of 10"), "{size}: it has begun");
        bench.key(Key::F7);
        assert!(bench.shows("For the second person"), "{size}: the points are seen from the start");
        bench.key(Key::Num1).key(Key::Enter);
        assert!(bench.shows("Keep the answer"), "{size}");
        bench.key(Key::Minus).key(Key::Space);
        assert!(bench.shows("Finish the answer"), "{size}: the next question stands");
        bench.key(Key::P);
        assert!(bench.shows("Paused"), "{size}");
        bench.key(Key::E);
        assert!(bench.shows("End the sitting here?"), "{size}: no one key ends it");
        bench.key(Key::E).key(Key::Enter).key(Key::Escape);
        assert!(bench.shows("Paused"), "{size}: and Escape leads back");
        bench.key(Key::E).key(Key::Y);
        assert!(bench.shows("Debrief of sitting 1"), "{size}");
        bench.key(Key::R);
        assert!(bench.shows("1 of "), "{size}: question by question");
        bench.key(Key::Escape);
        assert!(bench.shows("Debrief of sitting 1"), "{size}: Escape leads back to the marks first");
        bench.key(Key::Escape);
        assert!(bench.shows("Sit a mock oral"), "{size}");
        let row = bench.harness.query_by_label_contains("Sitting 1, 15 January 2027");
        assert!(row.is_some(), "{size}: it stands in the list");
    }
}

#[test]
fn the_debrief_opens_with_the_verdict_and_says_each_question_once() {
    for size in SIZES {
        let home = tempfile::tempdir().unwrap();
        let mut app = started(home.path());
        begin_mock(&mut app, 4, Way::Write, 7);
        let mut asked: Vec<String> = Vec::new();
        while let View::Oral(view) = &app.view().view {
            asked.extend((view.asked == "Lead question").then(|| view.card.ask.clone()));
            app.handle(Command::Oral(OralCommand::NothingToSay));
            app.settle();
        }
        let (bench, _) = on(app, size);
        let top = |words: &str| bench.harness.get_by_label_contains(words).rect().top();
        let verdict = bench.harness.get_by_label_contains("Not passed: 0 %, pass mark 60 %").rect();
        assert!(verdict.bottom() < size.y, "{size}: it is seen at once, at {verdict}");
        assert!(verdict.top() < top("Debrief of sitting 1") && verdict.top() < top("Marks by function"), "{size}");
        assert!(bench.harness.query_by_label_contains("The upright line is the pass mark").is_some(), "{size}");
        assert!(
            bench.harness.query_all_by_label_contains("pass mark 50").count() > 1,
            "{size}: each function says its own"
        );
        for ask in asked {
            let beginning: String = ask.chars().take(40).collect();
            let times = bench.harness.query_all_by_label_contains(&beginning).count();
            assert!(times <= 1, "{size}: {ask} stands {times} times");
        }
    }
}

#[test]
fn a_blueprint_is_changed_by_keys_and_set_back() {
    let home = tempfile::tempdir().unwrap();
    let mut bench = bench(home.path(), Route::Blueprint, SIZES[0]);
    bench.key(Key::ArrowDown).key(Key::ArrowRight);
    assert!(bench.shows("65 %"));
    bench.key(Key::Enter);
    assert!(bench.shows("The blueprint is kept"));
    bench.key(Key::O);
    assert!(!bench.shows("65 %"));
}

#[test]
fn a_competence_opens_by_key_and_is_studied() {
    for size in SIZES {
        let home = tempfile::tempdir().unwrap();
        let mut bench = bench(home.path(), Route::Competence, size);
        assert!(bench.shows("Nothing has been asked yet"), "{size}: a new learner is told so");
        assert!(bench.shows("Not yet"), "{size}: no chance before there is enough");
        bench.key(Key::ArrowDown).key(Key::Space);
        assert!(bench.shows("0 of "), "{size}: headings with how much of them was asked");
        bench.key(Key::Enter);
        let commands = bench.commands();
        assert_eq!(commands, [Command::Watch(WatchCommand::StudyCompetence("A-III/1.1.1".to_owned()))], "{size}");
        assert!(bench.shows("0 of "), "{size}: a watch on it has begun");
    }
}

#[test]
fn a_sitting_that_was_ended_is_taken_up_again_from_the_front_page() {
    for size in SIZES {
        let home = tempfile::tempdir().unwrap();
        let mut app = started(home.path());
        begin_mock(&mut app, 4, Way::Write, 7);
        app.handle(Command::Oral(OralCommand::BreakOff));
        app.settle();
        app.handle(Command::Go(Route::OralFront));
        let (mut bench, _) = on(app, size);
        assert!(bench.shows("Sitting 1, ended early, after 0 of 4 questions"), "{size}");
        bench.key(Key::T);
        assert!(bench.shows("question 1 of 4"), "{size}: it goes on");
    }
}
