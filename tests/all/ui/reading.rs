//! A typed answer in the window: while it is read, and where it is not sure whether a point was said.

use bedplate::app::program::command::{CardCommand, Command, SettingsCommand};
use bedplate::app::program::route::Route;
use bedplate::domain::answer::Given;
use bedplate::domain::outcome::Outcome;
use bedplate::present::kinds::MarkedView;
use bedplate::present::kinds::recall::{PointRow, RecallMarkedView};
use bedplate::present::stage::{Marked, Stage};
use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::support::reader::{at_once, once_told};
use crate::support::window::{Manned, Ship};
use crate::ui::look::fits;
use crate::ui::support::SIZES;

/// Of the second point, which is safety-critical, it is not sure.
const HALF: &str = "Switch off the consumers one after another.";
const YES: &str =
    "Yes, I said point 2: Isolate circuits one by one, essential ones last and with leave from the bridge.";
const NO: &str =
    "No, I did not say point 2: Isolate circuits one by one, essential ones last and with leave from the bridge.";

fn given(words: &str) -> Given {
    Given::Text(words.to_owned())
}

fn asked() -> Ship {
    let ship = Ship::reading(at_once());
    ship.lay("earth-lamp").give(20, given(HALF));
    ship
}

fn points(ship: &Ship) -> Vec<PointRow> {
    match ship.card().stage {
        Stage::Marked(Marked { view: MarkedView::Recall(RecallMarkedView { points, .. }), .. }) => points,
        other => panic!("not marked: {other:?}"),
    }
}

fn outcome(ship: &Ship) -> Outcome {
    ship.card().stage.result().expect("marked").outcome
}

fn settled(said: bool) -> Command {
    Command::Card(CardCommand::Settle { point: 2, said })
}

#[test]
fn a_point_that_is_not_sure_is_answered_by_keys_alone() {
    let ship = Ship::reading(at_once());
    ship.lay("earth-lamp");
    let mut bench: Manned = ship.manned();
    bench.key(Key::T).text(HALF).key_with(Modifiers::COMMAND, Key::Enter);
    let second = points(&bench.ship).remove(1);
    assert!(second.unsure && !second.said && second.critical, "{second:?}");
    assert_eq!(second.evidence.as_deref(), Some(HALF));
    assert_eq!(outcome(&bench.ship), Outcome::Missed, "until it is answered it does not count");
    assert!(bench.shows("Not sure: did you say this?") && bench.shows("You wrote: “Switch off the consumers"));
    assert!(bench.shows("a critical one not sure"));
    bench.commands();
    bench.key(Key::Y);
    assert_eq!(bench.commands(), [settled(true)]);
    let second = points(&bench.ship).remove(1);
    assert!(second.said && !second.unsure && second.evidence.is_some(), "{second:?}");
    assert!(!bench.shows("a critical one"), "the safety-critical point is credited");
    bench.key(Key::Y).key(Key::N);
    assert_eq!(bench.commands(), [], "nothing is asked any more");
    bench.key(Key::Num1);
    assert_eq!(outcome(&bench.ship), Outcome::Fluent);
    bench.commands();
    bench.key(Key::Num2);
    assert!(!points(&bench.ship)[1].said && !points(&bench.ship)[1].unsure, "unticked, it is not asked again");
    bench.key(Key::Space);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::Tick(2)), Command::Card(CardCommand::Accept)]);
}

#[test]
fn it_is_answered_by_mouse_and_by_whoever_hears_the_page() {
    let mut bench = asked().manned();
    for label in [YES, NO] {
        assert_eq!(bench.harness.get_by_label(label).accesskit_node().role(), Role::Button);
    }
    bench.harness.get_by_label(NO).click();
    bench.harness.run();
    assert_eq!(bench.commands(), [settled(false)]);
    let second = points(&bench.ship).remove(1);
    assert!(!second.said && !second.unsure && second.evidence.is_none(), "{second:?}");
    assert!(!bench.shows("Not sure"));
    assert_eq!(outcome(&bench.ship), Outcome::Missed);
    // What is ticked afterwards does not bring the question back.
    bench.key(Key::Num1);
    let points = points(&bench.ship);
    assert!(points[0].said && !points[1].unsure, "{points:?}");
}

#[test]
fn ticking_another_point_keeps_the_question() {
    let mut bench = asked().manned();
    bench.key(Key::Num1);
    let rows = points(&bench.ship);
    assert!(rows[0].said && rows[1].unsure && rows[1].evidence.is_some(), "{rows:?}");
    bench.harness.get_by_label(YES).click();
    bench.harness.run();
    assert_eq!(outcome(&bench.ship), Outcome::Fluent);
}

#[test]
fn its_keys_are_in_the_list_and_it_fits_every_window() {
    let ship = asked();
    for size in SIZES {
        let mut bench = ship.window(size);
        fits(&bench, "not sure", size);
        bench.key(Key::Questionmark);
        let answers = if size == SIZES[2] { ["Y: Yes", "N: No"] } else { ["Y: Yes, I said it", "N: No, I did not"] };
        for answer in answers {
            assert!(bench.harness.query_by_label(answer).is_some(), "{answer} at {size:?}");
        }
    }
}

#[test]
fn while_it_is_read_the_field_stands_and_escape_takes_it_back() {
    let (load, go) = once_told();
    let ship = Ship::reading(load);
    ship.lay("earth-lamp");
    let mut bench = ship.manned();
    bench.key(Key::T).text(HALF);
    bench.ship.app.borrow_mut().handle(Command::Card(CardCommand::Submit(given(HALF))));
    bench.harness.run();
    let reading = bench.harness.get_by_label("Reading…");
    assert!(reading.accesskit_node().is_disabled());
    bench.commands();
    bench.text(" and more").key(Key::Enter).key(Key::T).key(Key::A).key_with(Modifiers::COMMAND, Key::Enter);
    assert_eq!(bench.commands(), []);
    assert!(bench.shows(HALF) && !bench.shows("and more"));
    bench.key(Key::Escape);
    assert_eq!(bench.commands(), [Command::Card(CardCommand::Withdraw)]);
    bench.text(" Then earth it.");
    assert!(bench.shows("one after another. Then earth it."), "what was typed is in the field, which has the focus");
    go.send(()).expect("the reader is being loaded");
    bench.key_with(Modifiers::COMMAND, Key::Enter);
    assert!(bench.ship.card().stage.is_marked());
}

#[test]
fn reading_fits_every_window() {
    let (load, go) = once_told();
    let ship = Ship::reading(load);
    ship.lay("earth-lamp");
    ship.app.borrow_mut().handle(Command::Card(CardCommand::Submit(given(HALF))));
    for size in SIZES {
        fits(&ship.window(size), "reading", size);
    }
    go.send(()).expect("the reader is being loaded");
}

#[test]
fn the_second_reader_is_switched_off_in_the_settings() {
    let ship = Ship::new();
    ship.go(Route::Settings);
    let mut bench = ship.manned();
    assert!(bench.shows("Off: answers are marked by their words alone."));
    bench.harness.get_by_label("Second reader").click();
    bench.harness.run();
    assert_eq!(bench.commands(), [Command::Settings(SettingsCommand::SetSecondReader(false))]);
}
