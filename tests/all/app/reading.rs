//! Typed answers are read by the trained reader before they are marked; where it is late, gone or switched off, they are
//! marked by their words alone.

use std::sync::Arc;

use bedplate::app::program::Program;
use bedplate::app::program::command::{CardCommand, Command, ProfileCommand, SettingsCommand, WatchCommand};
use bedplate::domain::answer::Given;
use bedplate::domain::ids::CardKey;
use bedplate::present::View;
use bedplate::present::kinds::MarkedView;
use bedplate::present::kinds::recall::{PointRow, RecallMarkedView};
use bedplate::present::stage::{Marked, Stage};

use crate::support::reader::{at_once, missing, once_told};
use crate::support::window::Ship;

/// Right, and in words that no phrase of the card has.
const OTHER_WORDS: &str = "See which line has the fault. Then open breakers in turn.";

fn text(words: &str) -> Command {
    Command::Card(CardCommand::Submit(Given::Text(words.to_owned())))
}

fn points(ship: &Ship) -> Vec<PointRow> {
    match ship.card().stage {
        Stage::Marked(Marked { view: MarkedView::Recall(RecallMarkedView { points, .. }), .. }) => points,
        other => panic!("not marked: {other:?}"),
    }
}

fn notice(ship: &Ship) -> Option<String> {
    ship.view().notice.as_ref().map(|notice| notice.text.clone())
}

#[test]
fn both_readers_mark_what_one_alone_does_not_find() {
    let alone = Ship::new();
    alone.lay("earth-lamp").give(20, Given::Text(OTHER_WORDS.to_owned()));
    assert!(!points(&alone)[0].said, "the matcher of words alone does not find it");
    let both = Ship::reading(at_once());
    both.lay("earth-lamp").give(20, Given::Text(OTHER_WORDS.to_owned()));
    let first = &points(&both)[0];
    assert!(first.said && first.evidence.is_some(), "{first:?}");
    assert_eq!(both.card().seconds, 20);
}

#[test]
fn the_clock_stands_from_the_hand_in_on_and_nothing_else_is_taken_meanwhile() {
    let (load, go) = once_told();
    let ship = Ship::reading(load);
    ship.lay("earth-lamp").pass(20);
    ship.app.borrow_mut().handle(text(OTHER_WORDS));
    ship.pass(2);
    let card = ship.card();
    assert!(card.reading && !card.clock_runs && card.stage.is_asked());
    assert_eq!(card.seconds, 20);
    for other in [text("no idea"), Command::Card(CardCommand::ShowPoints), Command::Card(CardCommand::Tick(1))] {
        ship.app.borrow_mut().handle(other);
        assert!(ship.card().reading);
    }
    go.send(()).expect("the reader is being loaded");
    ship.app.borrow_mut().settle();
    assert!(points(&ship)[0].said);
    assert_eq!((ship.card().seconds, ship.card().reading), (20, false));
}

#[test]
fn an_answer_that_is_being_read_can_be_taken_back() {
    let (load, go) = once_told();
    let ship = Ship::reading(load);
    ship.lay("earth-lamp").pass(20);
    ship.app.borrow_mut().handle(text("find the phase"));
    ship.app.borrow_mut().handle(Command::Card(CardCommand::Withdraw));
    let card = ship.card();
    assert!(!card.reading && card.clock_runs && card.stage.is_asked());
    go.send(()).expect("the reader is being loaded");
    ship.app.borrow_mut().settle();
    assert!(ship.card().stage.is_asked(), "its reading marks nothing");
    ship.give(5, Given::Text(OTHER_WORDS.to_owned()));
    assert!(points(&ship)[0].said);
}

#[test]
fn a_reading_that_comes_late_does_not_mark_another_card() {
    let (load, go) = once_told();
    let ship = Ship::reading(load);
    ship.lay("earth-lamp").pass(20);
    ship.app.borrow_mut().handle(text(OTHER_WORDS));
    ship.app.borrow_mut().handle(Command::Watch(WatchCommand::Leave));
    let other = vec![CardKey::new("marram-light", "priming-pump")];
    ship.app.borrow_mut().handle(Command::Watch(WatchCommand::StudyCards(other)));
    go.send(()).expect("the reader is being loaded");
    ship.app.borrow_mut().settle();
    let card = ship.card();
    assert_eq!(card.key.card, "priming-pump");
    assert!(card.stage.is_asked() && !card.reading);
}

#[test]
fn after_three_seconds_it_is_marked_by_its_words_and_the_reading_changes_nothing() {
    let (load, go) = once_told();
    let ship = Ship::reading(load);
    ship.lay("earth-lamp").pass(20);
    ship.app.borrow_mut().handle(text("find the phase"));
    ship.pass(2);
    ship.app.borrow_mut().tick();
    assert!(ship.card().reading);
    ship.pass(1);
    ship.app.borrow_mut().tick();
    let marked = ship.card();
    assert_eq!(marked.seconds, 20);
    assert!(points(&ship)[0].said);
    go.send(()).expect("the reader is being loaded");
    ship.app.borrow_mut().settle();
    assert_eq!(ship.card().stage, marked.stage);
    assert_eq!(notice(&ship), None);
}

#[test]
fn without_its_files_answers_are_marked_by_their_words_and_that_is_said_once() {
    let ship = Ship::reading(missing());
    ship.lay("earth-lamp").give(20, Given::Text("find the phase".to_owned()));
    assert!(points(&ship)[0].said);
    let said = notice(&ship).unwrap_or_default();
    assert!(said.starts_with("The trained reader’s files are not beside the program"), "{said}");
    assert!(said.ends_with("answers are marked by their words alone."), "{said}");
    ship.run(Command::DismissNotice).run(Command::Card(CardCommand::Accept));
    ship.lay("earth-lamp").give(20, Given::Text("find the phase".to_owned()));
    assert!(points(&ship)[0].said);
    assert_eq!(notice(&ship), None, "it was said before");
}

#[test]
fn a_profile_is_closed_while_an_answer_is_read() {
    let (load, go) = once_told();
    let ship = Ship::reading(load);
    ship.lay("earth-lamp").pass(20);
    ship.app.borrow_mut().handle(text(OTHER_WORDS));
    go.send(()).expect("the reader is being loaded");
    let other = ProfileCommand::New("T. Olsen".to_owned());
    ship.run(Command::Profile(other));
    assert!(matches!(ship.view().view, View::FirstRun(_)), "{:?}", ship.view().view);
}

#[test]
fn switched_off_the_reader_is_not_even_loaded() {
    let ship = Ship::reading(Arc::new(|| panic!("it is switched off")));
    ship.run(Command::Settings(SettingsCommand::SetSecondReader(false)));
    ship.lay("earth-lamp").pass(20);
    ship.app.borrow_mut().handle(text("find the phase"));
    assert!(points(&ship)[0].said, "marked at once");
}
