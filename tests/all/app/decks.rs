//! Decks as the program finds them: what reading them again says, one count of problems, a folder that cannot be read, and
//! where a deck goes while there is none.

use std::fs;
use std::path::Path;

use bedplate::app::profile::opening;
use bedplate::app::profile::shelf::Shelf;
use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{Command, LibraryCommand};
use bedplate::app::program::route::Route;
use bedplate::app::program::setup::Setup;
use bedplate::app::views::front::front;
use bedplate::domain::day::Instant;
use bedplate::domain::ids::DeckId;
use bedplate::present::library::Severity;
use bedplate::present::{Tone, View};

use crate::support::decks;
use crate::support::home;

const NOW: Instant = Instant(1_800_000_000_000);

fn setup(home: &Path) -> Setup {
    home::setup(home, "e-dunmore", Some("E. Dunmore"), home::stopped(NOW))
}

/// The program behind its first questions.
fn app(home: &Path) -> App {
    let mut app = home::settled(setup(home));
    app.command(home::first_run(10, false));
    app.settle();
    app
}

fn card(id: &str, rest: &str) -> String {
    format!(
        "[[recall]]\nid = \"{id}\"\ntopic = \"A-III/1.1.4\"\nask = \"Name the {id}.\"\n\
         points = [{{ say = \"Forward\" }}, {{ say = \"Aft\" }}]\nsources = [\"practice\"]\n{rest}\n"
    )
}

/// A deck with no reasons and no times, which is advice; and what else is given.
fn write_deck(home: &Path, cards: &str) {
    decks::write(home, "marram-light", cards);
}

fn notice(app: &mut App) -> (Tone, String) {
    let notice = app.view().notice.clone().expect("a notice");
    (notice.tone, notice.text)
}

#[test]
fn decks_read_with_an_error_have_no_green_tick() {
    let home = tempfile::tempdir().expect("a folder");
    let mut app = app(home.path());
    write_deck(home.path(), &card("vents", ""));
    app.command(Command::Library(LibraryCommand::RereadDecks));
    app.settle();
    let (tone, text) = notice(&mut app);
    assert!(tone == Tone::Good && text.ends_with("read again."), "{text}");

    write_deck(home.path(), &(card("vents", "") + &card("hatches", "weight = 9")));
    app.command(Command::Library(LibraryCommand::RereadDecks));
    app.settle();
    let (tone, text) = notice(&mut app);
    assert_eq!(tone, Tone::Weak, "{text}");
    assert!(text.contains("One error was found; the deck’s page names its line."), "{text}");
}

#[test]
fn the_list_counts_the_problems_that_the_decks_page_lists() {
    let home = tempfile::tempdir().expect("a folder");
    write_deck(home.path(), &card("vents", ""));
    let mut app = app(home.path());
    app.command(Command::Go(Route::Deck(DeckId("marram-light".into()))));
    app.settle();
    let listed = match &app.view().view {
        View::Deck(deck) => deck.problems.len(),
        other => panic!("not a deck: {other:?}"),
    };
    assert!(listed > 0, "it has advice");
    app.command(Command::Go(Route::Library));
    app.settle();
    let shell = app.view();
    let View::Library(library) = &shell.view else { panic!("not the library") };
    let row = library.decks.iter().find(|row| row.id.0 == "marram-light").expect("it is listed");
    assert_eq!((row.problems, row.worst), (listed, Some(Severity::Advice)));
}

#[test]
fn a_folder_of_decks_that_cannot_be_read_is_told() {
    let home = tempfile::tempdir().expect("a folder");
    // A file stands in the folder's place: so nobody can list it, whoever runs the test.
    fs::write(home.path().join("decks"), "").expect("written");
    let ready = opening::open(&setup(home.path()), NOW).expect("the rest opens");
    let place = home.path().join("decks").display().to_string();
    assert!(
        ready.notices.iter().any(|said| said.contains(&place) && said.contains("cannot be read")),
        "{:?}",
        ready.notices
    );
    drop(ready);
    let mut app = app(home.path());
    app.command(Command::Library(LibraryCommand::RereadDecks));
    app.settle();
    let (tone, text) = notice(&mut app);
    assert!(tone == Tone::Weak && text.contains(&place), "{text}");
    // A folder that is not there is none that cannot be read.
    fs::remove_file(home.path().join("decks")).expect("removed");
    app.command(Command::Library(LibraryCommand::RereadDecks));
    app.settle();
    assert_eq!(notice(&mut app).0, Tone::Good);
}

#[test]
fn the_empty_watch_names_the_folder_that_decks_go_into() {
    let home = tempfile::tempdir().expect("a folder");
    let ready = opening::open(&setup(home.path()), NOW).expect("it opens");
    let mut none = Shelf::of(Vec::new());
    none.own_folder = ready.shelf.own_folder.clone();
    let front = front(&ready.profile.learner, &none, None, NOW);
    let place = home.path().join("decks").display().to_string();
    assert_eq!(front.sentence, format!("Put a deck’s folder into {place}"));
}
