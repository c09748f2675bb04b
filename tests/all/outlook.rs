//! The chance of passing from a learner's own cards: it rises with what is known, falls towards the day, and says what
//! costs it.

use std::path::Path;

use assert_cmd::Command;
use bedplate::app::outlook::{History, pool, work_out};
use bedplate::app::shelf::{Shelf, Shelved};
use bedplate::deck::read_deck;
use bedplate::domain::card::Card;
use bedplate::domain::memory::model::Model;
use bedplate::domain::oral::Blueprint;
use bedplate::domain::settings::Certificate;

fn shelf() -> Shelf {
    let decks = std::fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("decks")).unwrap().flatten();
    let decks = decks.map(|e| e.path()).filter(|p| p.join("deck.toml").is_file()).map(|folder| Shelved {
        reading: read_deck(&folder),
        folder,
        bundled: true,
        shadowed: false,
    });
    Shelf::of(decks.collect())
}

#[test]
fn the_chance_rises_with_recall_and_an_area_that_is_weak_costs_most() {
    let shelf = shelf();
    let blueprint = Blueprint::standard(Certificate::Watch);
    let chance = |recall: &dyn Fn(&Card) -> Option<f64>| {
        work_out(&pool(&blueprint, &shelf, recall), None, History::default(), &Model::standard(0.9))
    };
    let unseen = chance(&|_| None);
    let fair = chance(&|_| Some(0.7));
    let good = chance(&|_| Some(0.95));
    assert_eq!(unseen.unseen.0, unseen.unseen.1, "all are unseen");
    assert!(unseen.today.middle < fair.today.middle && fair.today.middle < good.today.middle);
    for outlook in [&unseen, &fair, &good] {
        let range = outlook.today;
        assert!(0.0 <= range.low && range.low <= range.middle && range.middle <= range.high && range.high <= 1.0);
    }
    let weak = |card: &Card| Some(if card.topic == "A-III/1.2.1" { 0.2 } else { 0.9 });
    assert_eq!(chance(&weak).costs.first().map(|(key, _)| key.as_str()), Some("A-III/1.2.1"));
}

#[test]
fn the_oral_is_drawn_as_the_blueprint_shares_it() {
    let shelf = shelf();
    let drawn = pool(&Blueprint::standard(Certificate::Watch), &shelf, |_| None);
    // Ten lead questions over functions of weight 40, 20, 15 and 25, by largest remainder: 4, 2, 2 (of 1.5) and 2 (of
    // 2.5; the earlier function first where remainders are equal). To pass: 60 % of ten, 50 % of each.
    let asked: Vec<(usize, usize)> = drawn.exam.parts.iter().map(|part| (part.drawn, part.floor)).collect();
    assert_eq!(asked, [(4, 2), (2, 1), (2, 1), (2, 1)]);
    assert_eq!(drawn.exam.needed, 6);
}

#[test]
fn the_command_gives_text_and_json_and_refuses_what_is_no_day() {
    let home = tempfile::tempdir().unwrap();
    let run = |arguments: &[&str]| {
        Command::cargo_bin("bedplate").unwrap().args(arguments).env("BEDPLATE_HOME", home.path()).output().unwrap()
    };
    let text = run(&["ready"]);
    assert!(String::from_utf8_lossy(&text.stdout).starts_with("Chance of passing: "));
    let json: serde_json::Value = serde_json::from_slice(&run(&["ready", "--json"]).stdout).expect("JSON");
    assert_eq!(json["competences"].as_array().map(Vec::len), Some(17));
    assert!(json["chance_today"]["low"].as_f64() <= json["chance_today"]["high"].as_f64());
    let wrong = run(&["ready", "--on", "someday"]);
    assert_eq!(wrong.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&wrong.stderr).contains("no day from today on"));
}
