//! A deck written in the window: chosen and begun, watched, answered without a trace, changed in forms, given samples.

use std::fs;
use std::path::{Path, PathBuf};

use bedplate::app::program::command::{Command, WritingCommand};
use bedplate::app::program::route::{Route, WritePage};
use bedplate::deck::read_deck;
use bedplate::domain::kinds::Kind;
use bedplate::domain::outcome::Outcome;
use bedplate::present::View;
use bedplate::present::library::Severity;
use bedplate::present::writing::{Found, Wanted, Worked, WriteDeskView, WriteFormView, WriteToldView};
use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::support::reader::at_once;
use crate::support::window::{Manned, Ship};
use crate::ui::look::fits;
use crate::ui::support::SIZES;

/// The folder of the ship's own deck.
pub fn folder(ship: &Ship) -> PathBuf {
    ship.home.path().join("decks/marram-light")
}

/// The ship's deck open to be written.
pub fn opened(ship: Ship) -> Ship {
    let open = Command::Writing(WritingCommand::Open(folder(&ship)));
    ship.run(open);
    ship
}

pub fn desk(ship: &Ship) -> WriteDeskView {
    match &ship.view().view {
        View::WriteDesk(view) => (**view).clone(),
        other => panic!("not at the desk: {other:?}"),
    }
}

pub fn told(ship: &Ship) -> WriteToldView {
    match &ship.view().view {
        View::WriteTold(view) => (**view).clone(),
        other => panic!("nothing is told: {other:?}"),
    }
}

pub fn form(ship: &Ship) -> WriteFormView {
    match &ship.view().view {
        View::WriteForm(view) => (**view).clone(),
        other => panic!("no form: {other:?}"),
    }
}

/// Takes the card of this id into the hand.
pub fn choose(ship: &Ship, id: &str) {
    let at = (0..desk(ship).cards.len()).find(|at| {
        ship.run(Command::Writing(WritingCommand::Choose(*at)));
        desk(ship).card.is_some_and(|card| card.key.card == id)
    });
    assert!(at.is_some(), "there is no card {id}");
}

/// Puts the cursor into a field of the form.
pub fn into(bench: &mut Manned, role: Role, label: &str) {
    bench.harness.get_by_role_and_label(role, label).focus();
    bench.harness.run();
}

pub fn read(file: &Path) -> String {
    fs::read_to_string(file).expect("readable")
}

/// Puts other words into a file, as an editor does; what has begun is awaited.
fn edit(ship: &Ship, name: &str, from: &str, to: &str) {
    let file = folder(ship).join(name);
    let text = read(&file);
    assert!(text.contains(from), "{from} is in {name}");
    fs::write(&file, text.replacen(from, to, 1)).expect("written");
    ship.app.borrow_mut().settle();
}

#[test]
fn a_deck_is_chosen_by_keys_alone_and_its_cards_are_gone_through() {
    let ship = Ship::new();
    ship.go(Route::Library);
    let mut bench: Manned = ship.manned();
    bench.key(Key::W);
    assert_eq!(bench.commands(), [Command::Go(Route::Write(WritePage::Front))]);
    assert!(bench.shows("Which deck do you write?") && bench.shows("Marram Light, our own plant"));
    assert!(!bench.shows("with the program"), "those that come with the program are not written");
    bench.key(Key::Enter);
    let open = Command::Writing(WritingCommand::Open(folder(&bench.ship)));
    assert_eq!(bench.commands().first(), Some(&open));
    let first = desk(&bench.ship);
    assert_eq!(first.cards.len(), read_deck(&folder(&bench.ship)).written.len());
    assert_eq!(first.chosen, 0);
    bench.key(Key::ArrowDown).key(Key::ArrowDown);
    assert_eq!(desk(&bench.ship).chosen, 2);
    bench.key(Key::ArrowUp);
    let ask = desk(&bench.ship).card.expect("a card").ask;
    assert!(bench.shows(&ask.replace('*', "")[..30]), "{ask}");
    bench.commands();
    bench.key(Key::Escape);
    assert_eq!(bench.commands(), [Command::Go(Route::Library)]);
}

#[test]
fn a_deck_is_begun_with_comments_and_its_first_card() {
    let ship = Ship::new();
    ship.go(Route::Write(WritePage::Front));
    let mut bench = ship.manned();
    bench.key(Key::N).text("boiler-water").key(Key::Tab).text("Boiler water").key(Key::Tab).text("A-III/1.1.4");
    assert!(bench.shows("A-III/1.1.4") && !bench.shows("There is no such competence"));
    bench.key(Key::Enter);
    let folder = bench.ship.home.path().join("decks/boiler-water");
    assert!(
        read(&folder.join("deck.toml")).contains("id = \"boiler-water\"")
            && read(&folder.join("deck.toml")).contains("# one higher"),
        "{}",
        read(&folder.join("deck.toml"))
    );
    assert!(bench.shows("The deck has no card yet"));
    bench.key(Key::N).key(Key::R);
    let view = form(&bench.ship);
    assert!(view.is_new && view.form.kind == Kind::Recall && view.form.text("topic") == "A-III/1.1.4");
    bench.text("alkalinity");
    into(&mut bench, Role::MultilineTextInput, "Question");
    bench.text("Why is boiler water kept alkaline?");
    into(&mut bench, Role::MultilineTextInput, "What must be said, point 1");
    bench.text("Acid water eats the steel").key_with(Modifiers::COMMAND, Key::S);
    let cards = read(&folder.join("cards.toml"));
    assert!(
        cards.contains(
            "[[recall]]\nid = \"alkalinity\"\ntopic = \"A-III/1.1.4\"\nask = \"Why is boiler water kept alkaline?\""
        ),
        "{cards}"
    );
    assert!(
        cards.contains("{ say = \"Acid water eats the steel\" }") && cards.contains("sources = [\"practice\"]"),
        "{cards}"
    );
    assert!(!form(&bench.ship).is_new);
    bench.key(Key::Escape).key(Key::Escape);
    let view = desk(&bench.ship);
    assert_eq!(view.card.map(|card| card.key.card), Some("alkalinity".to_owned()));
    bench.ship.go(Route::Library);
    let shell = bench.ship.view();
    let View::Library(library) = &shell.view else { panic!("the library") };
    assert!(library.decks.iter().any(|deck| deck.id.0 == "boiler-water"), "a deck that was begun is in the library");
}

#[test]
fn a_saved_file_shows_and_a_broken_one_keeps_its_cards_in_sight() {
    let ship = opened(Ship::new());
    choose(&ship, "full-air");
    let before = desk(&ship).cards.len();
    edit(&ship, "said.toml", "To what pressure are the", "To which pressure are the");
    assert!(desk(&ship).card.expect("a card").ask.contains("To which pressure"));
    edit(&ship, "said.toml", "value = \"30 bar\"", "value = \"30 bar");
    let view = desk(&ship);
    assert_eq!(view.cards.len(), before, "none is lost");
    assert!(view.broken.starts_with("said.toml cannot be read as it stands"), "{}", view.broken);
    let card = view.card.expect("still in sight");
    assert!(card.stale && card.ask.contains("To which pressure"));
    let worst = view.problems.first().expect("a problem");
    assert_eq!((worst.severity, worst.file.as_str()), (Severity::Error, "said.toml"));
    assert!(worst.what.ends_with('.') && worst.mend.ends_with('.'), "{worst:?}");
    let bench = ship.window(SIZES[0]);
    assert!(bench.shows("As it was last read well"));
    edit(&ship, "said.toml", "value = \"30 bar", "value = \"30 bar\"");
    let view = desk(&ship);
    assert!(view.broken.is_empty() && !view.card.expect("a card").stale);
}

#[test]
fn a_problem_is_opened_at_its_line() {
    let ship = opened(Ship::new());
    choose(&ship, "full-air");
    edit(&ship, "said.toml", "value = \"30 bar\"", "value = \"30 barrels\"");
    let problem = desk(&ship).problems.first().cloned().expect("a problem");
    assert_eq!(problem.of, None, "it is of the card in hand");
    let mut bench = ship.manned();
    let name = format!("Open said.toml at line {}: {}", problem.line, problem.what);
    assert_eq!(bench.harness.get_by_label(&name).accesskit_node().role(), Role::Button);
    bench.key(Key::Num1);
    let open = WritingCommand::OpenAt { file: "said.toml".to_owned(), line: problem.line };
    assert_eq!(bench.commands(), [Command::Writing(open)]);
    assert!(bench.shows("No editor was found on this computer"), "tests have none, and that is said");
    let line = read(&folder(&bench.ship).join("said.toml")).lines().nth(problem.line - 1).map(str::to_owned);
    assert_eq!(line.as_deref(), Some("value = \"30 barrels\""));
}

#[test]
fn a_card_is_answered_there_and_leaves_no_trace() {
    let ship = opened(Ship::reading(at_once()));
    choose(&ship, "earth-lamp");
    let mut bench = ship.manned();
    bench.key(Key::Enter);
    assert!(matches!(bench.ship.view().view, View::WriteCard(_)));
    assert!(!bench.shows("Set aside") && !bench.shows("Report a fault"));
    bench.key(Key::T).text("Find the phase that is earthed.").key_with(Modifiers::COMMAND, Key::Enter);
    assert!(bench.shows("Answered here, it leaves no trace."));
    bench.key(Key::Space);
    assert!(matches!(bench.ship.view().view, View::WriteDesk(_)));
    let page = bench.ship.page("earth-lamp");
    assert!(page.history.is_empty(), "{:?}", page.history);
    assert!(page.standing_detail.contains("Never asked"), "{}", page.standing_detail);
}

#[test]
fn what_the_marker_made_of_it_is_told_and_becomes_a_sample() {
    let ship = opened(Ship::reading(at_once()));
    choose(&ship, "priming-pump");
    let before = read(&folder(&ship).join("said.toml"));
    let mut bench = ship.manned();
    bench.key(Key::Enter).key(Key::T).text("A pressure switch does it.").key_with(Modifiers::COMMAND, Key::Enter);
    bench.key(Key::H);
    let view = told(&bench.ship);
    assert_eq!(view.points.len(), 5);
    assert_eq!(view.points[1].found, Found::Said);
    assert!(view.points[1].ground[0].starts_with("Matcher: said, in “"), "{:?}", view.points[1].ground);
    assert_eq!(view.points[1].wanted, Wanted::Said, "as it was found");
    assert_eq!((view.outcome_wanted, view.otherwise.as_str()), (Some(Outcome::Missed), ""));
    bench.key(Key::Num1);
    assert_eq!(told(&bench.ship).points[0].wanted, Wanted::Said);
    assert!(told(&bench.ship).otherwise.contains('1'), "{}", told(&bench.ship).otherwise);
    bench.key(Key::Num1).key(Key::Num1);
    assert_eq!(told(&bench.ship).points[0].wanted, Wanted::Open);
    bench.key(Key::Enter);
    let after = read(&folder(&bench.ship).join("said.toml"));
    let added: Vec<&str> = after.lines().filter(|line| !before.lines().any(|old| old == *line)).collect();
    assert_eq!(
        added,
        ["samples = [", "  { text = \"A pressure switch does it.\", says = [2], outcome = \"missed\" },"],
        "nothing else is changed"
    );
    let view = desk(&bench.ship);
    let Worked::Done(samples) = view.samples else { panic!("marked: {:?}", view.samples) };
    assert_eq!((samples[0].answer.as_str(), samples[0].otherwise.as_str()), ("A pressure switch does it.", ""));
    assert_eq!(samples[0].meant, "says 2; Missed");
}

#[test]
fn a_form_writes_what_was_changed_and_shows_what_an_editor_changes() {
    let ship = opened(Ship::new());
    choose(&ship, "full-air");
    let before = read(&folder(&ship).join("said.toml"));
    let mut bench = ship.manned();
    bench.key(Key::E);
    assert_eq!(form(&bench.ship).form.text("value"), "30 bar");
    edit(&bench.ship, "said.toml", "value = \"30 bar\"", "value = \"29 bar\" # gauge");
    bench.harness.run();
    assert!(bench.shows("29 bar"), "what an editor changed shows in a form that is untouched");
    into(&mut bench, Role::TextInput, "Within");
    bench.key_with(Modifiers::COMMAND, Key::A).text("2 bar").key_with(Modifiers::COMMAND, Key::S);
    let after = read(&folder(&bench.ship).join("said.toml"));
    let changed: Vec<&str> = after.lines().filter(|line| !before.lines().any(|old| old == *line)).collect();
    assert_eq!(changed, ["value = \"29 bar\" # gauge", "within = \"2 bar\""]);
    assert!(bench.shows("Written to said.toml."));
}

#[test]
fn what_was_changed_outside_is_not_written_over_without_a_question() {
    let ship = opened(Ship::new());
    choose(&ship, "full-air");
    let mut bench = ship.manned();
    bench.key(Key::E);
    into(&mut bench, Role::TextInput, "Within");
    bench.key_with(Modifiers::COMMAND, Key::A).text("2 bar");
    edit(&bench.ship, "said.toml", "value = \"30 bar\"", "value = \"31 bar\"");
    bench.harness.run();
    assert!(bench.shows("The file was changed outside of this form meanwhile."));
    bench.key_with(Modifiers::COMMAND, Key::S);
    assert!(read(&folder(&bench.ship).join("said.toml")).contains("within = \"1 bar\""), "nothing is written");
    bench.harness.get_by_label("Write what I have changed").click();
    bench.harness.run();
    let after = read(&folder(&bench.ship).join("said.toml"));
    assert!(after.contains("value = \"31 bar\"") && after.contains("within = \"2 bar\""), "{after}");
    // And where the window has not seen it yet.
    into(&mut bench, Role::TextInput, "Within");
    bench.key_with(Modifiers::COMMAND, Key::A).text("3 bar");
    let file = folder(&bench.ship).join("said.toml");
    fs::write(&file, read(&file).replacen("31 bar", "32 bar", 1)).expect("written");
    bench.key_with(Modifiers::COMMAND, Key::S);
    let after = read(&file);
    assert!(after.contains("32 bar") && after.contains("within = \"2 bar\""), "{after}");
    assert!(bench.shows("The file was changed outside of this form meanwhile."));
    bench.harness.get_by_label("Take what the file says").click();
    bench.harness.run();
    assert!(bench.shows("32 bar") && !bench.shows("3 bar\n"));
}

#[test]
fn what_is_typed_is_not_lost_by_escape() {
    let ship = opened(Ship::new());
    choose(&ship, "full-air");
    let mut bench = ship.manned();
    bench.key(Key::E);
    into(&mut bench, Role::TextInput, "Section");
    bench.text("!").key(Key::Escape).key(Key::Escape);
    assert!(bench.shows("What you have typed is not saved yet."));
    bench.key(Key::Escape);
    assert!(matches!(bench.ship.view().view, View::WriteForm(_)));
    bench.key(Key::Escape).key(Key::D);
    assert!(matches!(bench.ship.view().view, View::WriteDesk(_)));
    bench.key(Key::E).key(Key::Escape);
    assert!(matches!(bench.ship.view().view, View::WriteDesk(_)), "untouched, it asks nothing");
}

#[test]
fn what_can_be_proved_is_said_in_sentences() {
    let ship = opened(Ship::new());
    let mut proved = 0;
    for at in 0..desk(&ship).cards.len() {
        ship.run(Command::Writing(WritingCommand::Choose(at)));
        let view = desk(&ship);
        match (&view.proof, view.cards[at].kind) {
            (Some(Worked::Done(lines)), Kind::Sequence | Kind::Lineup | Kind::Working) => {
                assert!(lines.len() > 1 && lines.iter().all(|line| !line.is_empty()), "{lines:?}");
                proved += 1;
            }
            (None, Kind::Recall | Kind::Figure | Kind::Why | Kind::Point) => {}
            other => panic!("{other:?}"),
        }
    }
    assert!(proved >= 3, "the ship's deck has one of each");
}

#[test]
fn every_page_of_writing_fits_every_window() {
    let ship = opened(Ship::reading(at_once()));
    for id in ["priming-pump", "full-air", "blackout"] {
        choose(&ship, id);
        for size in SIZES {
            fits(&ship.window(size), id, size);
        }
    }
    for (at, card) in desk(&ship).cards.iter().enumerate() {
        ship.run(Command::Writing(WritingCommand::Choose(at)));
        fits(&ship.window(SIZES[0]), &card.name, SIZES[0]);
    }
    choose(&ship, "priming-pump");
    for (name, command) in
        [("form", Command::Writing(WritingCommand::Edit)), ("front", Command::Go(Route::Write(WritePage::Front)))]
    {
        ship.run(command);
        for size in SIZES {
            fits(&ship.window(size), name, size);
        }
    }
    ship.go(Route::Write(WritePage::Desk)).run(Command::Writing(WritingCommand::Try));
    for size in SIZES {
        fits(&ship.window(size), "answered by its writer", size);
    }
    ship.give(10, bedplate::domain::answer::Given::Text("A pressure switch does it.".to_owned()));
    ship.run(Command::Writing(WritingCommand::Tell));
    for size in SIZES {
        fits(&ship.window(size), "told", size);
    }
}
