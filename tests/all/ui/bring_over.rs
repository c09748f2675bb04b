//! Two computers of one learner, in the window.

use bedplate::app::program::command::{BringCommand, Command};
use bedplate::app::program::route::Route;
use bedplate::domain::answer::Given;
use bedplate::present::View;
use eframe::egui::Key;
use eframe::egui::accesskit::Role;
use egui_kittest::kittest::Queryable;

use super::look::fits;
use super::support::SIZES;
use crate::support::window::{Manned, Ship};

/// Another computer with the same learner's profile, or with another's, that writes its file here.
fn written(ship: &Ship, to: &std::path::Path) -> String {
    let to = to.to_str().expect("a path").to_owned();
    ship.go(Route::BringOver).run(Command::Bring(BringCommand::WriteOut(to.clone())));
    let notice = ship.view().notice.clone().expect("it is said");
    assert!(notice.text.starts_with("Written to ") && notice.text.contains(&to), "{notice:?}");
    to
}

fn answered(ship: &Ship) {
    ship.lay("full-air").give(11, Given::Text("30 bar".to_owned()));
    ship.run(Command::Card(bedplate::app::program::command::CardCommand::Accept));
}

fn page(ship: Ship) -> Manned {
    ship.go(Route::BringOver);
    let mut window = ship.manned();
    window.harness.run();
    window
}

fn has_button(window: &Manned, name: &str) -> bool {
    window.harness.query_by_role_and_label(Role::Button, name).is_some()
}

fn looked(window: &Manned) -> bedplate::present::bring_over::LookedView {
    match &window.ship.view().view {
        View::BringOver(view) => view.looked.clone().expect("a file that was looked into"),
        other => panic!("not the page: {other:?}"),
    }
}

#[test]
fn settings_lead_to_it_and_a_file_comes_in_after_its_figures() {
    let folder = tempfile::tempdir().expect("a folder");
    let elsewhere = Ship::new();
    // The ship's homes are copies of one: the same learner's on two computers.
    answered(&elsewhere);
    let file = written(&elsewhere, &folder.path().join("mine.profile"));
    let here = Ship::new();
    here.go(Route::Settings);
    let mut window = here.manned();
    assert!(has_button(&window, "Bring over"));
    window.key(Key::B);
    assert_eq!(window.commands(), [Command::Go(Route::BringOver)]);
    window.harness.run();
    assert!(window.harness.query_by_role_and_label(Role::Heading, "Bring over").is_some());
    window.harness.get_by_role_and_label(Role::TextInput, "File to take in").click();
    window.harness.run();
    window.text(&file);
    window.key(Key::Enter);
    assert_eq!(window.commands(), [Command::Bring(BringCommand::LookInto(file.clone()))]);
    window.harness.run();
    let told = looked(&window);
    assert_eq!((told.question, told.nothing, told.rows[0].new.as_str()), (None, false, "1"));
    let rows: Vec<String> = told.rows.iter().map(|row| row.what.clone()).collect();
    assert!(
        rows.contains(&"Answers".to_owned()) && rows.contains(&"Cards set aside or brought back".to_owned()),
        "{rows:?}"
    );
    for size in SIZES {
        fits(&window.ship.window(size), "settings", size);
    }
    window.harness.get_by_role_and_label(Role::Button, "Bring it in").click();
    window.harness.run();
    assert_eq!(window.commands(), [Command::Bring(BringCommand::TakeIn)]);
    let notice = window.ship.view().notice.clone().expect("it is said");
    assert!(notice.text.contains("1 new answer"), "{notice:?}");
    let page = window.ship.page("full-air");
    assert_eq!(page.history.len(), 1, "and is there");
    // A second time nothing is new.
    window.ship.go(Route::BringOver).run(Command::Bring(BringCommand::LookInto(file)));
    window.harness.run();
    assert!(looked(&window).nothing);
    assert!(has_button(&window, "Leave it") && !has_button(&window, "Bring it in"));
    window.key(Key::Enter);
    assert_eq!(window.commands(), [Command::Bring(BringCommand::Leave)]);
}

#[test]
fn another_learners_file_is_asked_about() {
    let folder = tempfile::tempdir().expect("a folder");
    let other = Ship::unmanned();
    other.run(crate::support::home::first_run(30, false));
    answered(&other);
    let file = written(&other, &folder.path().join("other.profile"));
    let here = Ship::new();
    answered(&here);
    here.go(Route::BringOver).run(Command::Bring(BringCommand::LookInto(file)));
    let mut window = here.manned();
    window.harness.run();
    let told = looked(&window);
    let question = told.question.expect("a question");
    assert!(question.contains("E. Dunmore") && question.contains("cannot be told apart again"), "{question}");
    assert!(window.shows(&question));
    for size in SIZES {
        fits(&window.ship.window(size), "settings", size);
    }
    // Enter leaves it; only the button with its name, or its key, brings it in.
    window.key(Key::Enter);
    assert_eq!(window.commands(), [Command::Bring(BringCommand::Leave)]);
    assert_eq!(window.ship.page("full-air").history.len(), 1);
    let file = folder.path().join("other.profile").to_str().expect("a path").to_owned();
    window.ship.go(Route::BringOver).run(Command::Bring(BringCommand::LookInto(file)));
    window.harness.run();
    window.key(Key::B);
    assert_eq!(window.commands(), [Command::Bring(BringCommand::TakeIn)]);
    assert_eq!(window.ship.page("full-air").history.len(), 2);
}

#[test]
fn a_refused_file_is_said_and_a_profile_is_written() {
    let folder = tempfile::tempdir().expect("a folder");
    let bad = folder.path().join("bad.profile");
    std::fs::write(&bad, "what I must not forget\n").expect("written");
    let ship = Ship::new();
    ship.go(Route::BringOver).run(Command::Bring(BringCommand::LookInto(bad.to_str().expect("a path").to_owned())));
    let notice = ship.view().notice.clone().expect("it is said");
    assert!(notice.text.contains("bad.profile") && notice.text.contains("refused"), "{notice:?}");
    let mut window = page(ship);
    for size in SIZES {
        fits(&window.ship.window(size), "settings", size);
    }
    let to = folder.path().join("out.profile").to_str().expect("a path").to_owned();
    let View::BringOver(view) = &window.ship.view().view.clone() else { panic!("not the page") };
    assert!(view.write_to.ends_with(".profile") && view.write_to.contains("e-dunmore-"), "{}", view.write_to);
    window.harness.get_by_role_and_label(Role::TextInput, "File to write").click();
    window.harness.run();
    window.harness.key_press_modifiers(eframe::egui::Modifiers::COMMAND, Key::A);
    window.harness.run();
    window.text(&to);
    window.key(Key::Enter);
    assert_eq!(window.commands(), [Command::Bring(BringCommand::WriteOut(to.clone()))]);
    let told = bedplate::store::bring::look(std::path::Path::new(&to)).expect("a sound file");
    assert_eq!(told.learner, "E. Dunmore");
    // Found again by its name, from the home folder.
    window.ship.run(Command::Bring(BringCommand::WriteOut(view.write_to.clone())));
    window.ship.go(Route::BringOver);
    window.harness.run();
    let name = format!("Look into {}", view.write_to);
    window.harness.get_by_label(&name).click();
    window.harness.run();
    assert_eq!(window.commands(), [Command::Bring(BringCommand::LookInto(view.write_to.clone()))]);
    assert!(looked(&window).nothing);
    window.key(Key::Escape);
    assert_eq!(window.commands(), [Command::Go(Route::Settings)]);
}
