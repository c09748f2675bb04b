//! The calculations that come with the program: each agrees with values from outside it, each draw has an answer, the
//! right answer is right in another unit too, and every slip is told when it is made.

use std::collections::{BTreeMap, BTreeSet};

use bedplate::domain::answer::{Answer, Given, Worked};
use bedplate::domain::card::Card;
use bedplate::domain::kinds::{Body, Detail, working};
use bedplate::domain::marking::{Marking, SlipKind, mark};
use bedplate::domain::outcome::Outcome;
use bedplate::domain::quantity::{Quantity, Unit};
use bedplate::domain::working::{Method, Working, draw, text};
use serde::Deserialize;

use crate::support::bundled;

/// So many draws are worked out, and the first few of them are marked.
const SEEDS: u64 = 50;
const MARKED: u64 = 8;

#[derive(Deserialize)]
struct Table {
    case: Vec<Case>,
}

/// A value from outside: see the head of the table.
#[derive(Deserialize)]
struct Case {
    card: String,
    givens: BTreeMap<String, String>,
    expected: f64,
    unit: String,
    within: f64,
    source: String,
}

fn cases() -> Vec<Case> {
    toml::from_str::<Table>(include_str!("../../reference/workings.toml")).expect("a table").case
}

fn workings() -> Vec<(Card, Working)> {
    let working = |card: Card| match card.body.clone() {
        Body::Working(working) => Some((card, working)),
        _ => None,
    };
    bundled::deck("calculations").cards.iter().cloned().filter_map(working).collect()
}

fn method(card: &Card, working: &Working) -> Method {
    Method::new(working).unwrap_or_else(|faults| panic!("{}: {faults:?}", card.key))
}

/// Marks an answer worked with these figures.
fn marked(card: &Card, givens: &BTreeMap<String, String>, answer: String) -> Marking {
    let worked = Worked { givens: givens.clone(), text: answer.clone(), ..Worked::default() };
    mark(card, &Answer::of(Given::Worked(worked))).unwrap_or_else(|error| panic!("{}, {answer}: {error:?}", card.key))
}

/// A number written so that nothing is lost to rounding.
fn written(number: f64, unit: &str) -> String {
    format!("{number:.12} {unit}").trim_end().to_owned()
}

fn texts(working: &Working, figures: &[Quantity]) -> BTreeMap<String, String> {
    working.givens.iter().zip(figures).map(|(given, figure)| (given.name.clone(), text(given, figure))).collect()
}

#[test]
fn there_are_calculations_from_every_part_of_the_work() {
    let mut areas: BTreeMap<String, usize> = BTreeMap::new();
    for (card, working) in workings() {
        *areas.entry(card.heading.clone().expect("a heading")).or_default() += 1;
        assert!(working.lines.len() >= 2 && working.lines.len() <= 6, "{}: lines", card.key);
        assert!(working.slips.len() >= 2, "{}: slips", card.key);
        assert!(card.because.is_some() && card.seconds.is_some(), "{}", card.key);
    }
    assert!(areas.values().sum::<usize>() >= 48, "{areas:?}");
    assert!(areas.len() >= 12 && areas.values().all(|count| *count >= 4), "{areas:?}");
}

#[test]
fn every_calculation_agrees_with_values_from_outside() {
    let workings = workings();
    let mut covered = BTreeSet::new();
    for case in cases() {
        assert!(case.source.len() > 8 && case.within <= 0.01, "{}", case.card);
        let found = workings.iter().find(|(card, _)| card.key.card == case.card);
        let (card, working) = found.unwrap_or_else(|| panic!("no card {}", case.card));
        covered.insert(case.card.clone());
        let figure = |name: &String| Quantity::parse(&case.givens[name]).unwrap_or_else(|e| panic!("{name}: {e}"));
        let figures: Vec<Quantity> = working.givens.iter().map(|given| figure(&given.name)).collect();
        assert_eq!(figures.len(), case.givens.len(), "{}", case.card);
        let right = method(card, working).work(&figures).unwrap_or_else(|e| panic!("{}: {e:?}", case.card)).answer;
        let unit = Unit::parse(&working.unit).expect("a unit");
        let theirs = Unit::parse(&case.unit).expect("a unit");
        let expected = theirs.convert(case.expected, &unit).unwrap_or_else(|| panic!("{}: unit", case.card));
        // A temperature's tolerance is a share of the temperature from absolute zero.
        let kelvin = Unit::parse("K").expect("a unit");
        let scale = unit.convert(expected, &kelvin).unwrap_or(expected).abs();
        let error = (right - expected).abs() / scale;
        assert!(error <= case.within, "{}: {right} for {expected}, off by {error:e} ({})", case.card, case.source);
        // And as a learner would see it.
        let marking = marked(card, &case.givens, written(case.expected, &case.unit));
        assert_eq!(marking.outcome, Outcome::Answered, "{}: {}", case.card, marking.reason);
    }
    let all: BTreeSet<String> = workings.iter().map(|(card, _)| card.key.card.to_string()).collect();
    assert_eq!(covered, all);
}

/// Another unit of the same kind, as a learner might answer.
fn another(unit: &str) -> &'static str {
    match unit {
        "kW" => "MW",
        "bar" => "kPa",
        "MPa" => "N/mm2",
        "%" => "ppm",
        "g/kWh" => "kg/kWh",
        "m/s" => "km/h",
        "L/day" | "mL" | "m3/h" => "L/h",
        "h" | "min" => "day",
        "t/day" | "kg/h" => "kg/s",
        "t" | "kg" => "lb",
        "kN" => "N",
        "kg/m3" => "kg/L",
        "MJ/kg" | "kJ/kg" => "kJ/kg",
        "m3" => "L",
        "m" | "mm" | "cm" => "in",
        "kg/min" => "kg/h",
        "A" => "mA",
        "kvar" => "Mvar",
        "V" => "kV",
        "Hz" => "rpm",
        "rpm" => "Hz",
        "Mohm" => "kohm",
        "Ah" => "mAh",
        "kNm" => "Nm",
        "deg" => "rad",
        "degC" => "K",
        "K" => "K",
        "L/nmi" => "L/km",
        "L" => "m3",
        _ => "",
    }
}

#[test]
fn the_right_answer_of_every_draw_is_right_in_any_unit() {
    for (card, working) in workings() {
        let method = method(&card, &working);
        let unit = method.unit().clone();
        let other = match unit.spelling.as_str() {
            "mL" => "L",
            spelling => another(spelling),
        };
        let other = Unit::parse(other).expect("a unit");
        for seed in 0..SEEDS {
            let figures = draw(&working, seed);
            let right = method.work(&figures).unwrap_or_else(|e| panic!("{}, {seed}: {e:?}", card.key)).answer;
            assert!(right.is_finite() && right > 0.0, "{}, {seed}: {right}", card.key);
            if seed >= MARKED {
                continue;
            }
            let givens = texts(&working, &figures);
            let marking = marked(&card, &givens, written(right, &unit.spelling));
            assert_eq!(marking.outcome, Outcome::Answered, "{}, {seed}: {}", card.key, marking.reason);
            let elsewhere = unit.convert(right, &other).unwrap_or_else(|| panic!("{}: {}", card.key, other.spelling));
            let marking = marked(&card, &givens, written(elsewhere, &other.spelling));
            assert_eq!(marking.outcome, Outcome::Answered, "{}, {seed}: {}", card.key, marking.reason);
        }
    }
}

#[test]
fn every_slip_is_told_when_it_is_made() {
    for (card, working) in workings() {
        let method = method(&card, &working);
        let mut own = vec![0_u64; working.slips.len()];
        for seed in 0..MARKED {
            let figures = draw(&working, seed);
            let worked = method.work(&figures).unwrap_or_else(|e| panic!("{}, {seed}: {e:?}", card.key));
            let givens = texts(&working, &figures);
            for (at, number) in worked.slips.iter().enumerate() {
                let number = number.unwrap_or_else(|| panic!("{}, {seed}: slip {} has no value", card.key, at + 1));
                let marking = marked(&card, &givens, written(number, &working.unit));
                assert_eq!(marking.outcome, Outcome::Missed, "{}, {seed}: {}", card.key, marking.reason);
                let Detail::Working(working::Told { slip, .. }) = &marking.detail else { panic!("{}", card.key) };
                let slip = slip.as_ref().unwrap_or_else(|| panic!("{}, {seed}: slip {} not told", card.key, at + 1));
                assert_eq!(slip.kind, SlipKind::Deck, "{}, {seed}: {}", card.key, slip.tell);
                own[at] += u64::from(slip.tell == working.slips[at].tell);
            }
        }
        // Two slips may come to the same answer for a rare draw; then the first is told.
        for (at, count) in own.iter().enumerate() {
            assert!(*count >= MARKED - 2, "{}: slip {} is told {count} times of {MARKED}", card.key, at + 1);
        }
    }
}
