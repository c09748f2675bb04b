//! Sequences and line-ups in their forms, and what learners say of a deck that is written.

use std::fs;

use bedplate::app::program::command::{Command, LibraryCommand};
use bedplate::domain::answer::Given;
use bedplate::domain::kinds::Kind;
use eframe::egui::accesskit::Role;
use eframe::egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use crate::support::reader::at_once;
use crate::support::window::{Manned, Ship, key};
use crate::ui::look::fits;
use crate::ui::support::SIZES;
use crate::ui::writing::{choose, desk, folder, form, into, opened, read, told};

#[test]
fn a_sequence_is_changed_in_its_table_by_keys_alone() {
    let ship = opened(Ship::new());
    choose(&ship, "dead-ship");
    let file = folder(&ship).join("sequence.toml");
    let before = read(&file);
    let mut bench = ship.manned();
    bench.key(Key::E);
    assert!(bench.harness.query_by_label("The goal: 13 N").is_some(), "the rows are said in words");
    // The first step is to need the first fact.
    bench.key(Key::ArrowDown).key(Key::N);
    assert!(bench.harness.query_by_label("Start the supply fans of the engine space: 1 N, 2 G").is_some());
    bench.key_with(Modifiers::COMMAND, Key::S);
    let after = read(&file);
    let added: Vec<&str> = after.lines().filter(|line| !before.lines().any(|old| old == *line)).collect();
    assert_eq!(added, ["needs = [\"board\"]"], "nothing else is changed");
    // Another step, then it is left out again.
    bench.key(Key::A);
    assert!(bench.harness.query_by_label("step-1: nothing").is_some());
    bench.key(Key::L);
    assert!(bench.harness.query_by_label("step-1: nothing").is_none());
    bench.key_with(Modifiers::COMMAND, Key::S);
    assert_eq!(read(&file), after);
    // In the smallest window the table is moved sideways.
    for size in [SIZES[0], SIZES[1]] {
        fits(&bench.ship.window(size), "sequence in its form", size);
    }
}

#[test]
fn a_line_up_is_drawn_by_keys_alone() {
    let ship = opened(Ship::new());
    let mut bench = ship.manned();
    bench.key(Key::N).key(Key::L);
    assert!(form(&bench.ship).is_new && form(&bench.ship).form.kind == Kind::Lineup);
    bench.text("fill-tank").key(Key::Escape);
    // A sea chest at A1, a valve at A3, a tank at A5, and pipes between them.
    bench.key(Key::N).key(Key::K);
    let pipe_to = |bench: &mut Manned, kinds: usize| {
        bench.key(Key::P).key(Key::ArrowRight).key(Key::ArrowRight);
        assert!(bench.shows("A pipe is being pulled from "));
        bench.key(Key::N);
        for _ in 0..kinds {
            bench.key(Key::K);
        }
        bench.key(Key::P);
    };
    pipe_to(&mut bench, 3);
    pipe_to(&mut bench, 0);
    into(&mut bench, Role::MultilineTextInput, "Question");
    bench.text("Let the sea into the tank.").key(Key::Escape);
    bench.key_with(Modifiers::COMMAND, Key::S);
    let cards = read(&folder(&bench.ship).join("lineup.toml"));
    let drawn = &cards[cards.find("id = \"fill-tank\"").expect("written")..];
    assert!(drawn.matches("[[lineup.node]]").count() == 3 && drawn.matches("[[lineup.pipe]]").count() == 2, "{drawn}");
    assert!(drawn.contains("at = [1, 1]") && drawn.contains("at = [5, 1]"), "{drawn}");
    for size in [SIZES[0], SIZES[1]] {
        fits(&bench.ship.window(size), "line-up in its form", size);
    }
}

#[test]
fn learners_reports_stand_at_their_cards_and_become_samples() {
    let ship = Ship::reading(at_once());
    ship.lay("full-air").give(12, Given::Text("25 bar".to_owned()));
    let report = LibraryCommand::ReportFault { card: key("full-air"), note: "It is 25 bar aboard.".to_owned() };
    ship.run(Command::Library(report));
    let ship = opened(ship);
    choose(&ship, "full-air");
    let reports = desk(&ship).reports;
    assert_eq!(reports.len(), 1);
    assert!(reports[0].note == "It is 25 bar aboard." && reports[0].when.starts_with("Edition 2, "), "{reports:?}");
    assert_eq!(reports[0].answer, "25 bar, marked Missed");
    let mut bench = ship.manned();
    bench.key(Key::M);
    assert_eq!(told(&bench.ship).answer, "25 bar");
    bench.key(Key::Enter);
    let cards = read(&folder(&bench.ship).join("said.toml"));
    assert!(cards.contains("samples = [\n  { text = \"25 bar\", outcome = \"missed\" },\n]"), "{cards}");
}

#[test]
fn reports_go_out_by_the_command_line_and_come_in_on_the_page() {
    let ship = Ship::new();
    ship.lay("full-air").give(12, Given::Text("25 bar".to_owned()));
    let report = LibraryCommand::ReportFault { card: key("full-air"), note: "It is 25 bar aboard.".to_owned() };
    ship.run(Command::Library(report));
    let export = |arguments: &[&str]| {
        let mut command = assert_cmd::Command::cargo_bin("bedplate").expect("the program is built");
        let profile = ship.home.path().join("profiles/e-dunmore");
        command
            .env("BEDPLATE_HOME", ship.home.path())
            .args(["export", "faults", "--profile"])
            .arg(profile)
            .args(arguments);
        let output = command.output().expect("it runs");
        assert!(output.status.success(), "{output:?}");
        String::from_utf8(output.stdout).expect("text")
    };
    let words = export(&[]);
    assert!(
        words.contains(
            "marram-light/full-air, edition 2\n  It is 25 bar aboard.\n  answered: 25 bar\n  marked Missed: "
        ),
        "{words}"
    );
    let reports = bedplate::store::reports_from_json(&export(&["--json"])).expect("a file of reports");
    assert_eq!(reports.len(), 1);
    assert!(reports[0].edition == Some(2) && reports[0].answer.is_some());
    assert_eq!(reports[0].marked.as_ref().map(|marked| marked.outcome.word()), Some("Missed"));
}

#[test]
fn a_file_of_reports_is_taken_in_and_kept() {
    let ship = opened(Ship::new());
    choose(&ship, "full-air");
    let file = ship.home.path().join("faults.json");
    let reports = r#"{"format":1,"reports":[{"card":"marram-light/full-air","at":1800000000000,"note":"Which gauge?","edition":1},
        {"card":"another/card","at":1800000000000,"note":"Elsewhere."}]}"#;
    fs::write(&file, reports).expect("written");
    let mut bench = ship.manned();
    bench.key(Key::L).text(&file.display().to_string()).key(Key::Enter);
    assert!(bench.shows("2 reports taken in, 1 report on this deck."));
    assert_eq!(desk(&bench.ship).reports[0].note, "Which gauge?");
    assert_eq!(fs::read_dir(bench.ship.home.path().join("reports")).expect("kept").count(), 1);
    fs::write(&file, "not this").expect("written");
    bench.key(Key::L).text(&file.display().to_string()).key(Key::Enter);
    assert!(bench.shows("was not taken in: it is no file of reports"));
}
