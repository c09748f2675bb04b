//! The chance of passing from a learner's own cards: it rises with what is known, falls towards the day, and says what
//! costs it.

use std::sync::Arc;

use assert_cmd::Command;
use bedplate::app::profile::shelf::{Shelf, Shelved};
use bedplate::domain::card::Card;
use bedplate::domain::certificate::Certificate;
use bedplate::domain::day::StudyDay;
use bedplate::domain::memory::model::Model;
use bedplate::domain::oral::Blueprint;
use bedplate::domain::readiness::{Belief, History, Needs, Outlook, Pool, area_costs, chance_range};
use bedplate::present::competence::needs_words;

use crate::support::bundled;

fn shelf() -> Shelf {
    let decks = bundled::ids().into_iter().map(|id| Shelved {
        reading: Arc::clone(bundled::reading(&id)),
        folder: bundled::folder().join(&id),
        bundled: true,
        taken_in: None,
        shadowed: false,
    });
    Shelf::of(decks.collect())
}

fn cards(shelf: &Shelf) -> impl Iterator<Item = &Card> {
    shelf.cards().map(|(_, card)| card)
}

const TODAY: StudyDay = StudyDay(20_000);

#[test]
fn the_chance_rises_with_recall_and_an_area_that_is_weak_costs_most() {
    let shelf = shelf();
    let blueprint = Blueprint::standard(Certificate::Watch);
    let pool = |recall: &dyn Fn(&Card) -> Option<f64>| Pool::of(&blueprint, cards(&shelf), TODAY, recall);
    let prior = Belief::prior(4);
    let chance = |recall: &dyn Fn(&Card) -> Option<f64>| chance_range(&pool(recall).exam, &prior);
    let (unseen, fair, good) = (chance(&|_| None), chance(&|_| Some(0.7)), chance(&|_| Some(0.95)));
    assert!(unseen.middle < fair.middle && fair.middle < good.middle, "{unseen:?} {fair:?} {good:?}");
    for range in [unseen, fair, good] {
        assert!(0.0 <= range.low && range.low <= range.middle && range.middle <= range.high && range.high <= 1.0);
    }
    let weak = pool(&|card| Some(if card.topic == "A-III/1.2.1" { 0.2 } else { 0.9 }));
    let costs = area_costs(&weak.exam, &prior, weak.areas.len(), 0.85);
    assert_eq!(costs.first().map(|cost| weak.areas[cost.area].as_str()), Some("A-III/1.2.1"));
}

#[test]
fn without_answers_no_chance_is_said_and_what_is_missing_is() {
    let shelf = shelf();
    let blueprint = Blueprint::standard(Certificate::Watch);
    let pool = Pool::of(&blueprint, cards(&shelf), TODAY, |_| Some(0.99));
    let history = History::of(&blueprint, cards(&shelf), []);
    let outlook = Outlook::of(&pool, Some(&pool), history, &Model::standard(0.9));
    let needs = outlook.today.needs().expect("nothing has been answered");
    assert_eq!((needs.cards, needs.functions), (40, 4));
    assert!(outlook.on_day.is_some_and(|chance| chance.range().is_none()) && outlook.costs.is_empty());
    assert_eq!(
        needs_words(&needs),
        "Answer about 40 more cards, from at least 4 more functions, or sit one mock oral."
    );
    let wide = Needs { cards: 20, functions: 0, wide: true };
    assert!(needs_words(&wide).ends_with("Answer about 20 more cards, or sit another mock oral."));
}

#[test]
fn the_oral_is_drawn_as_the_blueprint_shares_it() {
    let shelf = shelf();
    let drawn = Pool::of(&Blueprint::standard(Certificate::Watch), cards(&shelf), TODAY, |_| None);
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
    let text = String::from_utf8_lossy(&text.stdout).into_owned();
    let said =
        "Chance of passing: not yet. Answer about 40 more cards, from at least 4 more functions, or sit one mock oral.";
    assert!(text.starts_with(said), "{text}");
    let json: serde_json::Value = serde_json::from_slice(&run(&["ready", "--json"]).stdout).expect("JSON");
    assert_eq!(json["competences"].as_array().map(Vec::len), Some(17));
    assert!(json["chance_today"].is_null() && json["chance_on_day"].is_null(), "{json}");
    assert!(json["chance_missing"].as_str().is_some_and(|why| why.contains("40 more cards")), "{json}");
    assert_eq!(json["recall_target"], 0.9);
    let wrong = run(&["ready", "--on", "someday"]);
    assert_eq!(wrong.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&wrong.stderr).contains("no day from today on"));
}
