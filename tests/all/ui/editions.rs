//! Editions in the window: the sheet that says what one brought, a changed card at its question and after its answer, the
//! deck's page.

use std::fs;

use bedplate::app::program::command::{CardCommand, Command, LibraryCommand, SettingsCommand, WatchCommand};
use bedplate::app::program::route::Route;
use bedplate::domain::answer::{Given, LinedUp};
use bedplate::domain::ids::DeckId;
use bedplate::domain::settings::ThemeChoice;
use bedplate::present::View;
use eframe::egui::Key;
use eframe::egui::accesskit::Role;
use egui_kittest::kittest::{By, Queryable};

use crate::support::window::Ship;
use crate::ui::look::fits;
use crate::ui::support::{Bench, SIZES};

fn has(bench: &Bench, role: Role, label: &str) -> bool {
    bench.harness.query_all(By::new().role(role).label_contains(label)).next().is_some()
}

fn shows(bench: &Bench, role: Role, labels: &[&str]) {
    for label in labels {
        assert!(
            has(bench, role, label),
            "no {role:?} “{label}”: {:#?}",
            bench.painted().iter().map(|p| &p.2).collect::<Vec<_>>()
        );
    }
}

/// The ship's deck in its third edition: one figure, one recall and one line-up changed, one why renamed, one recall
/// withdrawn; each of them was answered in the second.
fn updated() -> Ship {
    let ship = Ship::new();
    for (card, given) in [
        ("full-air", Given::Text("30 bar".to_owned())),
        ("earth-lamp", Given::Said(vec![1, 2])),
        ("fuel-line", Given::LinedUp(LinedUp::default())),
        ("blackout", Given::Links(vec![1])),
        ("sea-suctions", Given::Said(vec![1, 2, 3, 4])),
    ] {
        ship.lay(card).give(10, given);
        if card == "earth-lamp" {
            ship.run(Command::Card(CardCommand::Tick(1))).run(Command::Card(CardCommand::Tick(2)));
        }
        ship.run(Command::Card(CardCommand::Accept)).run(Command::Watch(WatchCommand::Leave));
    }
    let deck = ship.home.path().join("decks/marram-light");
    let change = |file: &str, from: &str, to: &str| {
        let text = fs::read_to_string(deck.join(file)).expect("a file of the deck");
        assert!(text.contains(from), "{from}");
        fs::write(deck.join(file), text.replacen(from, to, 1)).expect("written");
    };
    change("deck.toml", "edition = 2", "edition = 3");
    change("said.toml", "value = \"30 bar\"", "value = \"25 bar\"");
    change(
        "said.toml",
        "Find which phase it is: the dim lamp is the earthed one.",
        "Find which phase it is: the dimmest lamp is the earthed one.",
    );
    change(
        "said.toml",
        "one by one, essential ones last and with leave from the bridge.\", accept = [\"isolate circuits one by one\"], critical = true",
        "one by one, essential ones last and with leave from the bridge.\", accept = [\"isolate circuits one by one\"]",
    );
    change("said.toml", "id = \"blackout\"", "id = \"blackout-chain\"\nwas = [\"blackout\"]");
    let text = fs::read_to_string(deck.join("said.toml")).expect("a file of the deck");
    let (before, rest) = text.split_once("[[recall]]\nid = \"sea-suctions\"").expect("it stands there");
    let (_, after) = rest.split_once("[[figure]]").expect("a figure follows");
    fs::write(deck.join("said.toml"), format!("{before}[[figure]]{after}")).expect("written");
    change("lineup.toml", "ask = \"", "ask = \"Once more: ");
    ship.run(Command::Library(LibraryCommand::RereadDecks));
    // What was read again is said on the notice line; the sheet is looked at without it.
    ship.run(Command::DismissNotice);
    assert!(matches!(ship.view().view, View::Edition(_)), "{:?}", ship.view().view);
    ship
}

#[test]
fn the_sheet_of_an_edition_fits_and_leads_on() {
    let ship = updated();
    for theme in [ThemeChoice::Sheet, ThemeChoice::Night] {
        ship.run(Command::Settings(SettingsCommand::SetTheme(theme)));
        for size in SIZES {
            fits(&ship.window(size), "edition", size);
        }
    }
    let mut bench = ship.manned();
    shows(
        &bench,
        Role::Heading,
        &["What is new in edition 3", "Three cards are changed", "One card is renamed", "One card is withdrawn"],
    );
    shows(&bench, Role::Label, &["To what pressure are the starting-air receivers of Marram Light filled? The value"]);
    shows(&bench, Role::Button, &["To the watch"]);
    bench.key(Key::Enter);
    assert_eq!(bench.commands(), [Command::Library(LibraryCommand::EditionSeen)]);
    assert!(bench.shows("Three cards are changed by a new edition and come before all others."));
}

#[test]
fn a_changed_card_says_so_at_its_question_and_shows_old_beside_new_after_the_answer() {
    let ship = updated();
    ship.run(Command::Library(LibraryCommand::EditionSeen));
    ship.lay("earth-lamp");
    for size in SIZES {
        let bench = ship.window(size);
        fits(&bench, "changed, asked", size);
        shows(&bench, Role::Label, &["Changed in edition 3"]);
        assert!(!bench.shows("Before") && !bench.shows("dimmest"), "nothing is given away");
    }
    ship.give(10, Given::Said(vec![])).run(Command::Card(CardCommand::Tick(1)));
    for size in SIZES {
        fits(&ship.window(size), "changed, marked", size);
    }
    let bench = ship.window(SIZES[0]);
    shows(&bench, Role::Heading, &["Changed in edition 3", "The key points"]);
    shows(
        &bench,
        Role::Label,
        &[
            "Before",
            "Now",
            "the dim lamp is the earthed one.",
            "the dimmest lamp is the earthed one.",
            "leave from the bridge. (safety-critical)",
        ],
    );
    ship.run(Command::Card(CardCommand::Accept)).lay("earth-lamp");
    assert!(!ship.window(SIZES[0]).shows("Changed in edition"), "it has been answered since");
}

#[test]
fn a_card_that_takes_the_whole_sheet_shows_what_was_changed_on_one_of_its_own() {
    let ship = updated();
    ship.run(Command::Library(LibraryCommand::EditionSeen));
    ship.lay("fuel-line");
    shows(&ship.window(SIZES[0]), Role::Label, &["Changed in edition 3"]);
    ship.give(20, Given::LinedUp(LinedUp::default()));
    for size in SIZES {
        fits(&ship.window(size), "changed, marked on a board", size);
    }
    let mut bench = ship.manned();
    shows(&bench, Role::Button, &["What was changed"]);
    bench.key(Key::D);
    shows(&bench, Role::Heading, &["Changed in edition 3", "The question"]);
    shows(&bench, Role::Label, &["Once more: "]);
    fits(&bench, "changed, on a sheet of its own", SIZES[0]);
    bench.key(Key::Escape);
    shows(&bench, Role::Button, &["Accept", "What was changed"]);
    bench.key(Key::D);
    bench.key(Key::Enter);
    shows(&bench, Role::Button, &["Accept"]);
    assert_eq!(bench.commands().len(), 0, "nothing was accepted by it");
}

#[test]
fn the_decks_page_has_its_editions_and_what_is_withdrawn() {
    let ship = updated();
    ship.run(Command::Library(LibraryCommand::EditionSeen));
    ship.go(Route::Deck(DeckId("marram-light".to_owned())));
    for size in SIZES {
        fits(&ship.window(size), "deck of two editions", size);
    }
    let mut bench = ship.manned();
    shows(&bench, Role::Heading, &["Editions", "1 card withdrawn"]);
    shows(&bench, Role::Label, &["When do we change from the low to the high sea suction, and why? Asked 1 time"]);
    let name = "Edition 3, taken in on Wednesday 25 November: 3 changed, 1 renamed, 1 withdrawn";
    bench.harness.get_by_role_and_label(Role::Button, name).click();
    bench.harness.run();
    assert_eq!(bench.commands(), [Command::Go(Route::Edition(DeckId("marram-light".to_owned()), 1))]);
    shows(&bench, Role::Button, &["Back to the deck"]);
    bench.key(Key::Escape);
    shows(&bench, Role::Heading, &["Editions"]);
    bench.commands();
    bench.key(Key::E);
    assert_eq!(bench.commands(), [Command::Go(Route::Edition(DeckId("marram-light".to_owned()), 1))]);
}
