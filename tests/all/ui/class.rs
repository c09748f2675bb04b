//! The page of a class, and an assignment on the front page of the watch.

use std::path::Path;

use bedplate::app::class::adding::add;
use bedplate::app::class::assignments::keep;
use bedplate::app::profile::only::Only;
use bedplate::app::program::command::{Command, WatchCommand};
use bedplate::app::program::route::Route;
use bedplate::domain::day::{Instant, StudyDay};
use bedplate::domain::outcome::Outcome;
use bedplate::domain::roster::{AssignedCard, Assignment};
use bedplate::present::View;
use bedplate::present::class_page::ClassState;
use eframe::egui::Key;
use eframe::egui::accesskit::Role;
use egui_kittest::kittest::Queryable;

use crate::roster::school::{NOW, assignment, hand_in, handed, write};
use crate::support::time::TODAY;
use crate::support::window::{Ship, key};
use crate::ui::look::fits;
use crate::ui::support::SIZES;

/// Two of the ship's cards, due in nine days.
fn of_the_ship() -> Assignment {
    let card = |id: &str, topic: &str, heading: &str| AssignedCard {
        card: key(id),
        topic: topic.to_owned(),
        heading: Some(heading.to_owned()),
        weight: 3,
        text: None,
    };
    let cards = vec![
        card("earth-lamp", "A-III/1.2.1", "Earth faults"),
        card("priming-pump", "A-III/1.1.4", "Lubrication before start"),
    ];
    Assignment { by: Some(StudyDay(TODAY.0 + 9)), cards, ..assignment("3A", &[]) }
}

/// A class of three with answers at the ship's cards.
fn make_class(home: &Path) {
    let folder = tempfile::tempdir().expect("a folder");
    for (n, outcome) in [Outcome::Fluent, Outcome::Prompted, Outcome::Missed].into_iter().enumerate() {
        let mut attempt = handed(&format!("{n}"), "x", NOW, outcome, "the dim lamp is the sound one");
        attempt.card = key("earth-lamp");
        attempt.denied = vec![1];
        let mut given =
            hand_in(&format!("learner-{n}"), &format!("Cadet {n} of a long name indeed"), n as i64, vec![attempt]);
        given.assignment = of_the_ship();
        let file = write(folder.path(), &n.to_string(), &given);
        let added = add(home, "3A", &[file], Instant(NOW), &mut |_| false).expect("added");
        assert!(added[0].came_to.is_ok());
    }
}

#[test]
fn the_class_shows_roster_areas_lesson_and_cards() {
    let ship = Ship::with(make_class);
    ship.go(Route::Class(0));
    let view = ship.view();
    let View::Class(page) = &view.view else { panic!("not the class: {:?}", view.view) };
    assert_eq!((page.classes.as_slice(), page.at), (&["3A".to_owned()][..], 0));
    let ClassState::Ready(document) = &page.state else { panic!("{:?}", page.state) };
    let text = bedplate::present::document::markdown(document);
    for words in ["Cadet 1", "Roster", "Earth faults", "nobody has met it", "The next lesson", "a hint, no more"] {
        assert!(text.contains(words), "{words}: {text}");
    }
    for size in SIZES {
        let bench = ship.window(size);
        fits(&bench, "class", size);
        bench.harness.get_by_label("Roster");
        bench.harness.get_by_role_and_label(Role::Button, "Class");
    }
    let mut bench = ship.manned();
    bench.key(Key::P);
    let report = bench.ship.home.path().join("reports/class-3a.pdf");
    assert!(std::fs::read(report).is_ok_and(|bytes| bytes.starts_with(b"%PDF")));
}

#[test]
fn where_there_is_no_class_there_is_no_way_to_one() {
    let ship = Ship::new();
    let bench = ship.window(SIZES[0]);
    assert!(bench.harness.query_by_label("Class").is_none());
    ship.go(Route::Class(0));
    assert!(matches!(&ship.view().view, View::Class(page) if matches!(page.state, ClassState::NoClass(_))));
}

#[test]
fn an_assignment_stands_on_the_front_page_and_is_studied_alone() {
    let ship = Ship::with(|home| keep(home, &of_the_ship()).expect("kept"));
    for size in SIZES {
        fits(&ship.window(size), "front", size);
    }
    let mut bench = ship.manned();
    let said = "Assignment 3A: Stage. Due Friday 4 December, in 9 days: 0 of 2 cards met, 0 held.";
    bench.harness.get_by_label(said);
    bench.key(Key::A);
    let only = Only::Assignment(of_the_ship().id);
    assert_eq!(bench.commands(), [Command::Watch(WatchCommand::StandOnly(only))]);
    let view = bench.ship.view();
    assert!(matches!(&view.view, View::WatchCard(_)), "{:?}", view.view);
    assert_eq!(view.context, "0 of 2 cards answered");
}
