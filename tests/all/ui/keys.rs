//! The list of keys behind `?`: every key that a page shows in a box stands in it.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::rc::Rc;

use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{CardCommand, Command, OralCommand, SettingsCommand, WatchCommand};
use bedplate::app::program::route::Route;
use bedplate::domain::day::StudyDay;
use bedplate::domain::ids::{CardKey, DeckId};
use bedplate::domain::kinds::Kind;
use bedplate::domain::oral::OralChoice;
use bedplate::domain::oral::{Draw, Length, Manner, Way};
use bedplate::present::{View, WatchCardView};
use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Vec2};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::support::bundled;
use crate::support::home::started;
use crate::support::window::{Settled, on};
use crate::ui::sitting::wrong;
use crate::ui::support::Bench;

const WINDOW: Vec2 = Vec2::new(1280.0, 800.0);

/// What key boxes say, apart from digits, which are the numbers of points too.
const FACES: [&str; 20] = [
    "ENTER",
    "CTRL ENTER",
    "SPACE",
    "TAB",
    "ESC",
    "BACKSPACE",
    "CTRL B",
    "CTRL T",
    "CTRL L",
    "PAGE UP",
    "PAGE DOWN",
    "SHIFT ↑",
    "SHIFT ↓",
    "↑",
    "↓",
    "←",
    "→",
    "−",
    "+",
    "/",
];

fn is_face(text: &str) -> bool {
    let letter = text.chars().count() == 1 && text.chars().all(|c| c.is_ascii_uppercase());
    letter || FACES.contains(&text) || ["F5", "F6", "F7"].contains(&text)
}

/// The keys whose boxes are on the page.
fn shown(bench: &Bench) -> BTreeSet<String> {
    let texts = bench.painted().into_iter().filter(|(place, clip, _)| clip.intersects(*place));
    texts.map(|(_, _, text)| text).filter(|text| is_face(text)).collect()
}

/// The keys that `?` lists there, in the words of the list.
fn listed(bench: &mut Bench) -> Vec<(String, String)> {
    bench.key(Key::F1);
    let labels = bench.harness.query_all_by_role(Role::Label).filter_map(|node| node.accesskit_node().value());
    let lines =
        labels.filter_map(|label| label.split_once(": ").map(|(face, does)| (face.to_owned(), does.to_owned())));
    let lines: Vec<(String, String)> = lines.collect();
    bench.key(Key::F1);
    lines
}

fn holds(bench: &mut Bench, what: &str) -> Vec<(String, String)> {
    let shown = shown(bench);
    listed_all(bench, what, &shown)
}

/// On a card, where single letters may stand for a figure or for an engine of the schematic too.
fn holds_on_card(bench: &mut Bench, card: &WatchCardView, what: &str) -> Vec<(String, String)> {
    let mut shown = shown(bench);
    if matches!(card.kind, Kind::Working | Kind::Lineup) {
        shown.retain(|face| face.len() > 1);
    }
    listed_all(bench, &format!("{} {what}", card.key), &shown)
}

fn listed_all(bench: &mut Bench, what: &str, shown: &BTreeSet<String>) -> Vec<(String, String)> {
    let lines = listed(bench);
    assert!(lines.iter().any(|(face, _)| face == "?, F1"), "{what}: no list");
    let faces: BTreeSet<&str> = lines.iter().flat_map(|(face, _)| face.split(", ")).map(str::trim).collect();
    for face in shown {
        assert!(faces.contains(face.as_str()), "{what}: {face} is on the page, and not among {lines:?}");
    }
    lines
}

/// Whether a list has this key with these words.
fn has(lines: &[(String, String)], face: &str, does: &str) -> bool {
    lines.iter().any(|line| line.0 == face && line.1 == does)
}

fn card(app: &Rc<RefCell<App>>) -> Option<WatchCardView> {
    match &app.borrow_mut().view().view {
        View::WatchCard(card) => Some((**card).clone()),
        View::Oral(oral) => Some(oral.card.clone()),
        _ => None,
    }
}

#[test]
fn every_key_that_a_page_shows_is_listed() {
    let home = tempfile::tempdir().expect("a folder");
    let (mut bench, app) = on(started(home.path()), WINDOW);
    let deck = DeckId("auxiliary-power".to_owned());
    for route in [
        Route::Watch,
        Route::OralFront,
        Route::Blueprint,
        Route::Competence,
        Route::Knowing,
        Route::Plan,
        Route::Library,
        Route::Deck(deck),
        Route::Card(CardKey::new("auxiliary-power", "start-an-alternator")),
        Route::Worksheet,
        Route::Profiles,
        Route::Settings,
        Route::BringOver,
        Route::About,
    ] {
        Settled::run(&app, Command::Go(route.clone()));
        bench.harness.run();
        let lines = holds(&mut bench, &format!("{route:?}"));
        if route == Route::Competence {
            assert!(has(&lines, "W", "How well does this program know you?"), "{lines:?}");
        }
    }
}

#[test]
fn after_the_oral_the_plan_lists_what_became_of_it() {
    let home = tempfile::tempdir().expect("a folder");
    let (mut bench, app) = on(started(home.path()), WINDOW);
    Settled::run(&app, Command::Settings(SettingsCommand::SetOral(Some(StudyDay(1)))));
    Settled::run(&app, Command::Go(Route::Plan));
    bench.harness.run();
    let lines = holds(&mut bench, "the plan after the oral");
    for (face, does) in [("P", "I passed"), ("N", "Not this time"), ("O", "It was put off")] {
        assert!(has(&lines, face, does), "{face}: {lines:?}");
    }
}

#[test]
fn every_key_of_a_card_of_each_kind_is_listed_before_and_after_the_answer() {
    let home = tempfile::tempdir().expect("a folder");
    let (mut bench, app) = on(started(home.path()), WINDOW);
    for kind in Kind::ALL {
        let key = bundled::of_kind(kind).first().expect("one of each kind").key.clone();
        Settled::run(&app, Command::Watch(WatchCommand::StudyCards(vec![key.clone()])));
        bench.harness.run();
        let asked = card(&app).expect("a card is asked");
        assert_eq!((&asked.key, asked.kind), (&key, kind));
        holds_on_card(&mut bench, &asked, "asked");
        Settled::run(&app, Command::Card(CardCommand::Submit(wrong(&asked).expect("it is asked"))));
        bench.harness.run();
        let lines = holds_on_card(&mut bench, &asked, "marked");
        for (face, does) in [("SPACE", "Accept"), ("A", "Set aside"), ("F", "Report a fault")] {
            assert!(has(&lines, face, does), "{key}, {face}: {lines:?}");
        }
        Settled::run(&app, Command::Watch(WatchCommand::Leave));
    }
}

#[test]
fn every_key_of_a_sitting_is_listed_while_it_runs_and_while_it_rests() {
    let home = tempfile::tempdir().expect("a folder");
    let (mut bench, app) = on(started(home.path()), WINDOW);
    let choice = OralChoice { draw: Draw::Mock, manner: Manner::Steady, length: Length::Questions(4), way: Way::Speak };
    Settled::run(&app, Command::Go(Route::OralFront));
    Settled::run(&app, Command::Oral(OralCommand::Begin(choice)));
    bench.harness.run();
    let lines = holds(&mut bench, "a question");
    assert!(lines.iter().any(|(_, does)| does == "I don’t know"), "{lines:?}");
    Settled::run(&app, Command::Oral(OralCommand::Pause(true)));
    bench.harness.run();
    let lines = holds(&mut bench, "paused");
    for (face, does) in [("SPACE", "Go on"), ("L", "Leave it for later"), ("E", "End the sitting")] {
        assert!(has(&lines, face, does), "{face}: {lines:?}");
    }
    bench.key(Key::E);
    let lines = holds(&mut bench, "about to end");
    assert!(has(&lines, "Y", "Yes, end it"), "{lines:?}");
    bench.key(Key::Y);
    holds(&mut bench, "the debrief");
}
