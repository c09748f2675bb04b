//! The whole way: an edition is sealed and taken in, studied, and the next one taken in over it; then back again.

use std::path::Path;

use bedplate::app::program::Program;
use bedplate::app::program::command::{CardCommand, Command, LibraryCommand, WatchCommand};
use bedplate::domain::answer::Given;
use bedplate::domain::day::Instant;
use bedplate::present::View;
use serde_json::{Value, json};

use super::learner::{
    DAY, START, answer, card, deck_page, first_edition, key, open, ready, run, second_edition, sheet, study,
};
use crate::support::{bundled, decks, home};

/// Seals an edition of the deck in a folder apart, and gives the file.
fn sealed(apart: &Path, edition: u32, cards: &str) -> String {
    let folder = apart.join(format!("source-{edition}"));
    decks::write_into(&folder, "gate", edition, cards);
    let file = apart.join(format!("gate-{edition}.bedplate")).display().to_string();
    let said = home::terminal(apart, &["seal", folder.to_str().expect("a name"), "--out", &file], "");
    assert!(Path::new(&file).is_file(), "{said}");
    file
}

fn install(home: &Path, arguments: &[&str]) -> Value {
    let said = home::terminal(home, &[&["install", "--json"], arguments].concat(), "");
    serde_json::from_str(&said).unwrap_or_else(|error| panic!("{error}: {said}"))
}

#[test]
fn a_deck_is_taken_in_studied_and_taken_in_again() {
    let (home, apart) = (tempfile::tempdir().expect("a folder"), tempfile::tempdir().expect("a folder"));
    bundled::share_in(home.path());
    bundled::set_aside_in(&home.path().join("profiles/a"), Instant(START - DAY));
    let first = install(home.path(), &[&sealed(apart.path(), 1, &first_edition()), "--trust"]);
    assert_eq!((&first["was_edition"], &first["new"]), (&Value::Null, &json!(["air", "oil", "water", "speed"])));
    let mut app = open(home.path(), START);
    study(&mut app, &[("air", "30 bar"), ("oil", "1.5 bar"), ("water", "95 degC"), ("speed", "115 rpm")]);
    drop(app);

    let second = install(home.path(), &[&sealed(apart.path(), 2, &second_edition())]);
    assert_eq!(second["refused"], Value::Null, "{second}");
    assert_eq!(
        (&second["changed"], &second["withdrawn"], &second["new"]),
        (&json!(["air"]), &json!(["water"]), &json!(["level"]))
    );
    assert_eq!((&second["renamed"], &second["same"]), (&json!([{ "from": "oil", "to": "oil-trip" }]), &json!(1)));

    let mut app = open(home.path(), START + DAY);
    assert_eq!(sheet(&mut app).expect("it is told").headline, "What is new in edition 2");
    run(&mut app, Command::Library(LibraryCommand::EditionSeen));
    assert!(matches!(app.view().view, View::WatchFront(_)));
    assert_eq!(deck_page(&mut app).withdrawn[0].key, key("water"));
    run(&mut app, Command::Watch(WatchCommand::Stand { shorter: false }));
    assert_eq!(card(&mut app).key, key("air"));
    run(&mut app, Command::Card(CardCommand::Submit(Given::Text("25 bar".into()))));
    let changed = card(&mut app).changed.expect("it is changed");
    assert_eq!((&changed.heading[..], changed.parts.expect("answered").len()), ("Changed in edition 2", 1));
    run(&mut app, Command::Card(CardCommand::Accept));
    assert_eq!(card(&mut app).changed, None);
    drop(app);
    let held = ready(home.path(), START + DAY + 60_000).profile.learner;
    assert_eq!((held.editions.count(), held.memory[&key("oil-trip")].seen, held.memory[&key("air")].seen), (0, 1, 2));

    // Back to the edition before: what was answered in the second is another than what is asked.
    let back = install(home.path(), &["--go-back", "gate"]);
    assert_eq!((&back["edition"], &back["refused"]), (&json!(1), &Value::Null), "{back}");
    let learner = ready(home.path(), START + 2 * DAY).profile.learner;
    assert_eq!(learner.editions.changed(&key("air")).map(|changed| changed.edition), Some(1));
    assert_eq!(
        (learner.memory[&key("oil")].seen, learner.memory[&key("water")].seen),
        (1, 1),
        "each has its own again"
    );
    let mut app = open(home.path(), START + 2 * DAY);
    let view = sheet(&mut app).expect("going back is told as well");
    assert_eq!(view.sentence, "In place of edition 2, which is later. One card is as it was.");
    run(&mut app, Command::Library(LibraryCommand::EditionSeen));
    run(&mut app, Command::Watch(WatchCommand::Stand { shorter: false }));
    assert_eq!(card(&mut app).key, key("air"));
    answer(&mut app, "30 bar");
    drop(app);
    assert_eq!(ready(home.path(), START + 2 * DAY + 60_000).profile.learner.editions.count(), 0);
}
