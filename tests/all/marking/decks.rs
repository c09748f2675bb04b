//! The decks that come with the program, marked against their own phrases: a point's own words must make it, all
//! points together must make the card, and a phrase that denies a point must contradict it.

use std::path::Path;

use bedplate::domain::answer::{Answer, Given};
use bedplate::domain::card::Card;
use bedplate::domain::key_point::KeyPoint;
use bedplate::domain::kinds::recall::Recall;
use bedplate::domain::kinds::{Body, Detail, recall};
use bedplate::domain::marking::{PointMark, mark};
use bedplate::domain::outcome::Outcome;
use serde::Deserialize;

use crate::marking::kinds::card;
use crate::support::bundled;

#[derive(Deserialize)]
struct Cards {
    #[serde(default)]
    recall: Vec<RecallCard>,
}

#[derive(Deserialize)]
pub(crate) struct RecallCard {
    pub(crate) id: String,
    ask: String,
    pub(crate) points: Vec<Point>,
}

#[derive(Deserialize)]
pub(crate) struct Point {
    say: String,
    #[serde(default)]
    pub(crate) accept: Vec<String>,
    #[serde(default)]
    reject: Vec<String>,
}

pub(crate) fn bundled() -> Vec<RecallCard> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("decks");
    let mut found = Vec::new();
    for deck in std::fs::read_dir(&root).expect("the decks folder").flatten() {
        for folder in [deck.path(), deck.path().join("cards")] {
            let Ok(files) = std::fs::read_dir(folder) else { continue };
            for file in files.flatten().map(|f| f.path()).filter(|p| p.extension().is_some_and(|e| e == "toml")) {
                let text = std::fs::read_to_string(&file).expect("a deck file is UTF-8");
                if !file.ends_with("deck.toml") {
                    found.extend(toml::from_str::<Cards>(&text).expect("a deck file is sound").recall);
                }
            }
        }
    }
    found
}

pub(crate) fn asked(of: &RecallCard) -> Card {
    let points = of.points.iter().map(|p| KeyPoint {
        say: p.say.clone(),
        accept: p.accept.clone(),
        reject: p.reject.clone(),
        critical: false,
    });
    Card { ask: of.ask.clone(), ..card(Body::Recall(Recall { points: points.collect() })) }
}

pub(crate) fn marked(card: &Card, text: &str) -> Vec<PointMark> {
    match mark(card, &Answer::of(Given::Text(text.to_owned()))).expect("a typed answer").detail {
        Detail::Recall(recall::Told { points }) => points,
        other => panic!("{other:?}"),
    }
}

#[test]
fn every_point_of_the_bundled_decks_is_made_by_its_own_phrases() {
    let (mut tried, mut wrong) = (0, Vec::new());
    for of in &bundled() {
        let card = asked(of);
        for (at, p) in of.points.iter().enumerate() {
            for phrase in std::iter::once(&p.say).chain(&p.accept) {
                tried += 1;
                let marks = marked(&card, phrase);
                if !marks[at].said {
                    wrong.push(format!("{} point {}: not said by its own {phrase:?} ({:?})", of.id, at + 1, marks[at]));
                }
                for (other, m) in marks.iter().enumerate().filter(|(o, m)| *o != at && m.contradicted) {
                    wrong.push(format!(
                        "{} point {} ({}): contradicted by point {}'s {phrase:?} ({:?})",
                        of.id,
                        other + 1,
                        of.points[other].say,
                        at + 1,
                        m.evidence
                    ));
                }
            }
        }
    }
    assert!(tried > 1_000 && wrong.is_empty(), "{} of {tried} wrong:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn all_points_together_make_the_card() {
    let (mut tried, mut wrong) = (0, Vec::new());
    for of in &bundled() {
        let card = asked(of);
        let all: Vec<&str> = of.points.iter().map(|p| p.say.as_str()).collect();
        for text in [all.join(". "), all.join(", ").to_lowercase(), all.join("\n- ")] {
            for (at, m) in marked(&card, &text).iter().enumerate() {
                tried += 1;
                if !m.said {
                    wrong.push(format!("{} point {} ({}): {m:?} in {text:?}", of.id, at + 1, of.points[at].say));
                }
            }
        }
    }
    assert!(tried > 1_000 && wrong.is_empty(), "{} of {tried} wrong:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn phrases_that_deny_contradict() {
    let (mut tried, mut wrong) = (0, Vec::new());
    for of in &bundled() {
        let card = asked(of);
        for (at, p) in of.points.iter().enumerate() {
            for phrase in &p.reject {
                tried += 1;
                let m = &marked(&card, phrase)[at];
                if !m.contradicted {
                    wrong.push(format!("{} point {} ({}): {phrase:?} gives {m:?}", of.id, at + 1, p.say));
                }
            }
        }
    }
    assert!(tried > 50 && wrong.is_empty(), "{} of {tried} wrong:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn phrases_of_the_bundled_decks_that_are_dispensed_with_are_not_said() {
    let (mut tried, mut said, mut against, mut wrong) = (0, 0, 0, Vec::new());
    for of in &bundled() {
        let card = asked(of);
        for (at, p) in of.points.iter().enumerate() {
            let small = |w: &str| ["not", "no", "never", "without", "nobody", "nothing", "cannot"].contains(&w);
            for phrase in std::iter::once(&p.say).chain(&p.accept) {
                let phrase = phrase.to_lowercase();
                if phrase.split(' ').any(small) || phrase.contains("n't") || phrase.contains([',', ':', ';']) {
                    continue;
                }
                for text in [format!("there is no need to {phrase}"), format!("{phrase} is not necessary")] {
                    tried += 1;
                    let m = &marked(&card, &text)[at];
                    against += usize::from(m.contradicted);
                    if m.said {
                        said += 1;
                        wrong.push(format!("{} point {} ({}): {text:?}", of.id, at + 1, p.say));
                    }
                }
            }
        }
    }
    assert!(tried > 1_000 && said * 100 <= tried * 5, "{said} of {tried} said:\n{}", wrong.join("\n"));
    assert!(against * 100 >= tried * 90, "{against} of {tried} contradicted");
}

#[test]
fn answers_to_other_cards_make_few_points() {
    let all = bundled();
    let (mut pairs, mut said, mut contradicted) = (0, 0, 0);
    for (at, of) in all.iter().enumerate() {
        let card = asked(of);
        for step in [7, 19, 31, 43] {
            let other = &all[(at + step) % all.len()];
            let answer: Vec<&str> = other.points.iter().map(|p| p.say.as_str()).collect();
            for m in marked(&card, &answer.join(". ")) {
                pairs += 1;
                said += usize::from(m.said);
                contradicted += usize::from(m.contradicted);
            }
        }
    }
    assert!(pairs > 1_000 && said * 100 <= pairs * 7, "{said} of {pairs} said");
    assert!(contradicted * 100 <= pairs, "{contradicted} of {pairs} contradicted");
}

#[test]
fn every_figure_and_why_of_the_bundled_decks_is_right_by_its_own_value() {
    let (mut figures, mut wrong) = (0, Vec::new());
    for deck in bundled::decks() {
        for card in &deck.cards {
            let outcome = |given| mark(card, &Answer::of(given)).map(|m| m.outcome);
            match &card.body {
                Body::Figure(figure) => {
                    figures += 1;
                    let text = figure.value_text.clone();
                    if outcome(Given::Text(text.clone())) != Ok(Outcome::Answered) {
                        wrong.push(format!("{}: {text}", card.key));
                    }
                    let bare = figure.value.number.to_string();
                    let wanted = if figure.value.unit.is_empty() { Outcome::Answered } else { Outcome::Prompted };
                    if outcome(Given::Text(bare.clone())) != Ok(wanted) {
                        wrong.push(format!("{}: {bare} without its unit", card.key));
                    }
                }
                Body::Why(why) if outcome(Given::Links((1..=why.links.len()).collect())) != Ok(Outcome::Answered) => {
                    wrong.push(card.key.to_string());
                }
                // Sequences are proved by `plant_decks`.
                _ => {}
            }
        }
    }
    assert!(figures >= 20, "{figures} figures");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
