//! Taking a deck in by the window: the file is dropped or named, looked into, and taken in after a yes; the edition before
//! comes back from the deck's page.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use bedplate::app::program::command::{Command, LibraryCommand, SettingsCommand};
use bedplate::app::program::route::Route;
use bedplate::deck::sealed::{SecretKey, new_pair};
use bedplate::domain::ids::DeckId;
use bedplate::domain::settings::ThemeChoice;
use bedplate::present::{TakeInView, View};
use eframe::egui::accesskit::Role;
use eframe::egui::{DroppedFile, Key};
use egui_kittest::kittest::{By, Queryable};

use crate::publish::parcel::{CARDS, Parcel, card};
use crate::publish::rules::signed;
use crate::support::window::Ship;
use crate::ui::look::fits;
use crate::ui::support::{Bench, SIZES};

fn has(bench: &Bench, role: Role, label: &str) -> bool {
    bench.harness.query_all(By::new().role(role).label_contains(label)).next().is_some()
}

fn shows(bench: &Bench, role: Role, labels: &[&str]) {
    for label in labels {
        let painted: Vec<String> = bench.painted().into_iter().map(|p| p.2).collect();
        assert!(has(bench, role, label), "no {role:?} “{label}”: {painted:#?}");
    }
}

/// A file as a window is given it.
#[derive(Debug)]
struct Dropped(PathBuf);

impl DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        fs::read(&self.0).map_err(|error| error.to_string())
    }
}

/// A ship, a key, and where files lie.
struct Quay {
    ship: Ship,
    key: SecretKey,
}

impl Quay {
    fn new() -> Self {
        let key = SecretKey::open(&new_pair(None).expect("a pair").secret_file, None).expect("a key");
        Self { ship: Ship::new(), key }
    }

    /// Puts a signed file of these cards where it can be taken in.
    fn file(&self, edition: u32, say: &str) -> PathBuf {
        let cards = CARDS.map(|(id, ask)| card(id, ask, say)).concat();
        self.put(&format!("air-{edition}.bedplate"), &signed(Parcel::of(edition, &cards), &self.key).bytes())
    }

    fn put(&self, name: &str, bytes: &[u8]) -> PathBuf {
        let path = self.ship.home.path().join(name);
        fs::write(&path, bytes).expect("written");
        path
    }

    fn look_into(&self, path: PathBuf) -> &Self {
        self.ship.run(Command::Library(LibraryCommand::LookInto(path)));
        self
    }

    fn page(&self) -> TakeInView {
        match &self.ship.view().view {
            View::TakeIn(view) => (**view).clone(),
            other => panic!("another page: {other:?}"),
        }
    }

    fn is_at_deck(&self) -> bool {
        matches!(&self.ship.view().view, View::Deck(deck) if deck.id.0 == "marram-air")
    }
}

#[test]
fn the_page_fits_in_every_state() {
    let quay = Quay::new();
    let take_in = |command| Command::Library(command);
    let offered = LibraryCommand::LookInto(quay.file(1, "starting air"));
    let refused = LibraryCommand::LookInto(quay.put("a.bedplate", b"not a deck"));
    let states = [
        ("take in, empty", take_in(LibraryCommand::AskForFile)),
        ("take in, offered", take_in(offered)),
        ("take in, refused", take_in(refused)),
        ("library", Command::Go(Route::Library)),
    ];
    for theme in [ThemeChoice::Sheet, ThemeChoice::Night] {
        quay.ship.run(Command::Settings(SettingsCommand::SetTheme(theme)));
        for (name, command) in &states {
            quay.ship.run(command.clone());
            for size in SIZES {
                fits(&quay.ship.window(size), name, size);
            }
        }
    }
}

#[test]
fn a_named_file_is_looked_into_and_taken_in_after_a_yes() {
    let quay = Quay::new();
    let path = quay.file(1, "starting air");
    quay.ship.go(Route::Library);
    let mut bench = quay.ship.window(SIZES[0]);
    shows(&bench, Role::Button, &["Take in a deck"]);
    bench.key(Key::T);
    shows(&bench, Role::Heading, &["Take in a deck"]);
    bench.text(&format!("\"{}\"", path.display()));
    bench.key(Key::Enter);
    let look = Command::Library(LibraryCommand::LookInto(path));
    assert_eq!(bench.commands(), [Command::Library(LibraryCommand::AskForFile), look]);
    shows(&bench, Role::Heading, &["Marram Light, our own plant", "What it brings"]);
    let (number, key) = (quay.key.public().number(), quay.key.public().line());
    shows(
        &bench,
        Role::Label,
        &["Publisher: E. Dunmore", &number, key, "Three cards, all of them new.", "Do you trust it"],
    );
    let home = quay.ship.home.path();
    assert!(!home.join("taken-in").exists() && !home.join("keys").exists(), "nothing is kept before the yes");
    bench.key(Key::Y);
    assert_eq!(bench.commands(), [Command::Library(LibraryCommand::TakeIn)]);
    assert!(quay.is_at_deck());
    assert!(bench.shows("edition 1 is in use now"));
    shows(&bench, Role::Label, &["From a signed file"]);
    assert!(!bench.shows("Go back to edition"), "there is none before");
}

#[test]
fn no_puts_the_file_away() {
    let quay = Quay::new();
    quay.look_into(quay.file(1, "starting air"));
    let mut bench = quay.ship.window(SIZES[0]);
    bench.key(Key::N);
    assert_eq!(bench.commands(), [Command::Library(LibraryCommand::PutFileAway)]);
    assert!(matches!(quay.ship.view().view, View::Library(_)));
    assert!(!quay.ship.home.path().join("taken-in").exists());
    quay.ship.run(Command::Library(LibraryCommand::TakeIn));
    assert!(!quay.ship.home.path().join("taken-in").exists(), "what was put away is not taken in");
}

#[test]
fn a_dropped_file_is_looked_into_from_every_page() {
    let quay = Quay::new();
    let path = quay.file(1, "starting air");
    for route in [Route::Watch, Route::Settings, Route::Library] {
        quay.ship.go(route);
        let mut bench = quay.ship.window(SIZES[0]);
        bench.harness.input_mut().dropped_files.push(Arc::new(Dropped(path.clone())));
        bench.harness.run();
        assert_eq!(bench.commands(), [Command::Library(LibraryCommand::LookInto(path.clone()))]);
        assert!(matches!(quay.page(), TakeInView::Offered(_)));
    }
}

#[test]
fn an_update_is_told_and_the_edition_before_comes_back() {
    let quay = Quay::new();
    for edition in [1, 2] {
        quay.look_into(quay.file(edition, if edition == 1 { "starting air" } else { "compressed air" }));
        let TakeInView::Offered(offer) = quay.page() else { panic!("{:?}", quay.page()) };
        if edition == 2 {
            assert_eq!(offer.news, ["Three cards are changed."]);
            assert_eq!(offer.questions, ["Take it in?"]);
        }
        quay.ship.run(Command::Library(LibraryCommand::TakeIn));
    }
    // The sheet of the new edition comes by itself.
    assert!(matches!(&quay.ship.view().view, View::Edition(sheet) if sheet.headline.ends_with("edition 2")));
    quay.ship.run(Command::Library(LibraryCommand::EditionSeen)).go(Route::Deck(DeckId("marram-air".to_owned())));
    for size in SIZES {
        fits(&quay.ship.window(size), "deck with an edition before", size);
    }
    let bench = quay.ship.window(SIZES[0]);
    let back = bench.harness.query_by_role_and_label(Role::Button, "Go back to edition 1").expect("it is offered");
    back.click();
    let mut bench = bench;
    bench.harness.run();
    let deck = DeckId("marram-air".to_owned());
    assert_eq!(bench.commands(), [Command::Library(LibraryCommand::GoBack(deck.clone()))]);
    quay.ship.run(Command::Library(LibraryCommand::EditionSeen)).go(Route::Deck(deck));
    assert!(quay.ship.window(SIZES[0]).shows("Go back to edition 2"));
}

#[test]
fn what_is_refused_is_said_in_plain_sentences() {
    let quay = Quay::new();
    let said = |path: PathBuf| {
        quay.look_into(path);
        match quay.page() {
            TakeInView::Refused(refused) => (refused.sentence, refused.detail),
            other => panic!("{other:?}"),
        }
    };
    let (sentence, detail) = said(quay.put("a.bedplate", b"not a deck"));
    assert!(sentence.contains("not the file of a deck") && detail.contains("(not-a-zip)"), "{sentence} {detail}");
    let (sentence, _) = said(quay.ship.home.path().join("nowhere.bedplate"));
    assert!(sentence.contains("could not be read"), "{sentence}");
    let mut turned = fs::read(quay.file(1, "starting air")).expect("there");
    let at = turned.windows(4).rposition(|four| four == b"deck").expect("a name");
    turned[at] = b'D';
    let (sentence, detail) = said(quay.put("b.bedplate", &turned));
    assert!(sentence.contains("tampered") && detail.contains("(header-differs)"), "{sentence} {detail}");
    // The same again, and another deck of the same edition.
    quay.look_into(quay.file(1, "starting air")).ship.run(Command::Library(LibraryCommand::TakeIn));
    let (sentence, detail) = said(quay.file(1, "starting air"));
    assert!(sentence.contains("here already, with the same contents") && detail.is_empty(), "{sentence} {detail}");
    let (sentence, detail) = said(quay.file(1, "steam"));
    assert!(sentence.contains("higher edition") && detail.contains("(same-edition)"), "{sentence} {detail}");
    let mut bench = quay.ship.window(SIZES[0]);
    shows(&bench, Role::Heading, &["Marram Light, our own plant"]);
    bench.key(Key::Enter);
    assert!(matches!(quay.ship.view().view, View::Library(_)));
}

#[test]
fn a_deck_that_came_with_the_program_is_replaced_only_after_all_questions() {
    let quay = Quay::new();
    let cards = CARDS.map(|(id, ask)| card(id, ask, "air")).concat();
    let parcel = signed(Parcel::named("main-engines", 900, &cards), &quay.key);
    quay.look_into(quay.put("m.bedplate", &parcel.bytes()));
    let TakeInView::Offered(offer) = quay.page() else { panic!("{:?}", quay.page()) };
    assert_eq!(offer.questions.len(), 3, "{:?}", offer.questions);
    assert!(offer.questions[0].contains("came with the program") && offer.questions[2].ends_with("all the same?"));
    quay.ship.run(Command::Library(LibraryCommand::TakeIn));
    quay.ship.run(Command::Library(LibraryCommand::EditionSeen)).go(Route::Deck(DeckId("main-engines".to_owned())));
    let View::Deck(deck) = quay.ship.view().view.clone() else { panic!("the deck’s page") };
    assert_eq!((deck.cards.len(), deck.back.is_some()), (3, true));
}
