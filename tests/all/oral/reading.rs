//! A typed answer in a sitting: where it is not sure of a point the examiner asks once, and both texts are one answer.

use bedplate::app::program::command::{CardCommand, Command, OralCommand};
use bedplate::domain::answer::Given;
use bedplate::domain::oral::{Draw, Length, Manner, MarkedBy, OralChoice, Way};
use bedplate::present::kinds::MarkedView;
use bedplate::present::kinds::recall::{PointRow, RecallMarkedView};
use bedplate::present::stage::{Marked, Stage};
use bedplate::present::{OralView, View};
use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::support::reader::at_once;
use crate::support::window::Ship;
use crate::ui::support::SIZES;

/// Of the second point, which is safety-critical, it is not sure.
const FIRST: &str = "Switch off the consumers one after another.";
const SECOND: &str = "I isolate circuits one by one, the essential ones last and with leave from the bridge.";
const ASKED: &str = "Say that again, in other words: “Switch off the consumers one after another.”";

fn standing(ship: &Ship) -> OralView {
    match &ship.view().view {
        View::Oral(oral) => (**oral).clone(),
        other => panic!("no question stands: {other:?}"),
    }
}

fn type_in(ship: &Ship, words: &str) {
    ship.pass(10);
    ship.run(Command::Card(CardCommand::Submit(Given::Text(words.to_owned()))));
}

/// A typed sitting at the question about the earth-fault lamp.
fn at_the_lamp(draw: Draw) -> Ship {
    let ship = Ship::reading(at_once());
    let choice = OralChoice { draw, manner: Manner::Steady, length: Length::Questions(20), way: Way::Write };
    ship.app.borrow_mut().begin_oral(choice, Some(3));
    ship.app.borrow_mut().settle();
    for _ in 0..40 {
        if standing(&ship).card.ask.starts_with("An earth-fault lamp") {
            return ship;
        }
        ship.run(Command::Oral(OralCommand::NothingToSay));
    }
    panic!("the lamp is not asked for");
}

fn points(view: &OralView) -> Vec<PointRow> {
    match &view.card.stage {
        Stage::Marked(Marked { view: MarkedView::Recall(RecallMarkedView { points, .. }), .. }) => points.clone(),
        other => panic!("not marked: {other:?}"),
    }
}

/// What was kept of the last answer.
fn kept(ship: &Ship) -> (Option<Given>, MarkedBy, Vec<f64>) {
    ship.run(Command::Card(CardCommand::Accept));
    let dir = ship.home.path().join("profiles/e-dunmore");
    ship.run(Command::Oral(OralCommand::Leave));
    ship.app.borrow_mut().settle();
    let options = bedplate::store::OpenOptions {
        dir,
        now: bedplate::domain::day::Instant(ship.clock.load(std::sync::atomic::Ordering::SeqCst)),
        wake: std::sync::Arc::new(|| {}),
    };
    let store = bedplate::store::Store::open_or_read(options).expect("it is read").store;
    let sittings = store.sittings().wait().expect("read");
    let turn = sittings.last().and_then(|kept| kept.sitting.turns.last()).expect("a turn").clone();
    let answer = turn.answer.expect("answered");
    (answer.given, answer.by, answer.marks.iter().map(|mark| mark.earned).collect())
}

#[test]
fn the_examiner_asks_once_and_both_texts_are_one_answer() {
    for draw in [Draw::Mock, Draw::Coaching] {
        let ship = at_the_lamp(draw);
        type_in(&ship, FIRST);
        let view = standing(&ship);
        assert!(view.card.stage.is_asked() && view.again, "{draw:?}");
        assert_eq!(view.lead_in, ASKED);
        type_in(&ship, SECOND);
        let view = standing(&ship);
        let points = points(&view);
        assert!(points[1].said && points.iter().all(|point| !point.unsure), "{points:?}");
        assert_eq!(view.card.seconds, 20, "the time of both");
        let (given, by, earned) = kept(&ship);
        assert_eq!(given, Some(Given::Text(format!("{FIRST}\n{SECOND}"))));
        assert_eq!((by, earned), (MarkedBy::Program, vec![0.0, 1.0]));
    }
}

#[test]
fn what_is_still_not_sure_counts_as_not_said_and_is_not_asked_again() {
    let ship = at_the_lamp(Draw::Mock);
    type_in(&ship, FIRST);
    type_in(&ship, FIRST);
    let view = standing(&ship);
    let points = points(&view);
    assert!(!view.again && points.iter().all(|point| !point.said && !point.unsure), "{points:?}");
    assert!(points.iter().all(|point| !point.text.contains("Isolate") && point.evidence.is_none()), "{points:?}");
}

#[test]
fn whoever_has_nothing_to_add_leaves_it_at_that() {
    let ship = at_the_lamp(Draw::Mock);
    type_in(&ship, FIRST);
    ship.run(Command::Oral(OralCommand::NothingToSay));
    assert!(standing(&ship).card.stage.is_marked(), "the first answer is marked as it stands");
    let (given, by, earned) = kept(&ship);
    assert_eq!(given, Some(Given::Text(FIRST.to_owned())));
    assert_eq!((by, earned), (MarkedBy::Program, vec![0.0, 0.0]));
}

#[test]
fn in_the_window_the_field_is_empty_again_and_everything_is_in_sight() {
    for size in SIZES {
        let ship = at_the_lamp(Draw::Mock);
        let mut bench = ship.manned_at(size);
        bench.text(FIRST).key_with(Modifiers::COMMAND, Key::Enter);
        assert!(standing(&bench.ship).again);
        assert!(bench.shows("Say that again, in other words: “Switch off"), "at {size:?}");
        let window = eframe::egui::Rect::from_min_size(Default::default(), size);
        for name in ["Hand in", "Leave it at that"] {
            assert!(window.contains_rect(bench.harness.get_by_label(name).rect()), "{name} at {size:?}");
        }
        assert!(bench.harness.get_by_label("Hand in").accesskit_node().is_disabled(), "nothing is typed yet");
        bench.text(SECOND).key_with(Modifiers::COMMAND, Key::Enter);
        assert!(points(&standing(&bench.ship))[1].said, "at {size:?}");
    }
}
