//! Figures and rates given the way people say them: pH before its number, nautical miles in words, tonnes where tonnes
//! in a day are asked; and what is said of ratios.

use bedplate::domain::answer::{Answer, Given, Worked};
use bedplate::domain::card::Card;
use bedplate::domain::kinds::figure::Figure;
use bedplate::domain::kinds::{Body, Detail, Kind, figure, working};
use bedplate::domain::marking::{Marking, SlipKind, mark};
use bedplate::domain::outcome::Outcome::{self, Answered, Missed, Prompted};
use bedplate::domain::quantity::{Quantity, Within};
use bedplate::domain::working::draw;

use crate::marking::kinds::card;
use crate::support::bundled;
use crate::working::credit;

fn figure(value: &str, within: &str) -> Card {
    let quantity = Quantity::parse(value).unwrap_or_else(|error| panic!("{value}: {error}"));
    let within = if within.is_empty() { Within::Exact } else { Within::parse(within, &quantity).expect("a tolerance") };
    card(Body::Figure(Figure { value: quantity, value_text: value.to_owned(), within }))
}

fn answer(card: &Card, text: &str) -> Marking {
    mark(card, &Answer::of(Given::Text(text.to_owned()))).expect("an answer of the right form")
}

fn slip(marking: &Marking) -> Option<SlipKind> {
    match &marking.detail {
        Detail::Figure(figure::Told { slip, .. }) | Detail::Working(working::Told { slip, .. }) => {
            slip.as_ref().map(|slip| slip.kind)
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_ph_may_stand_before_its_number_or_behind_it() {
    // MEPC.259(68), 10.1.2.1: wash water at the overboard discharge has a pH of no less than 6.5.
    for value in ["6.5 pH", "pH 6.5"] {
        let card = figure(value, "");
        let right =
            ["pH 6.5", "6.5 pH", "ph 6.5", "PH 6.5", "pH6.5", "pH: 6.5", "pH = 6.5", "pH of 6.5", "a pH of 6,5"];
        let more = ["The pH is 6.5", "the pH should be at least 6.5 at the outlet", "not below pH 6.5", "pH value 6.5"];
        for text in right.into_iter().chain(more) {
            assert_eq!(answer(&card, text).outcome, Answered, "{value}: {text}");
        }
        for text in ["pH 7.5", "pH 65", "not pH 6.5 but pH 7", "pH 6.0 to 6.5"] {
            assert_eq!(answer(&card, text).outcome, Missed, "{value}: {text}");
        }
        assert_eq!(answer(&card, "6.5").outcome, Prompted, "{value}: the unit is missing");
    }
    // A tolerance too may be said so, and a range is right where both its ends are.
    assert_eq!(answer(&figure("pH 7.5", "pH 0.5"), "pH 7.2-7.8").outcome, Answered);
    assert_eq!(answer(&figure("pH 7.5", "0.5 pH"), "between pH 7 and 8").outcome, Answered);
    assert_eq!(answer(&figure("6", ""), "6 pumps, and pH 9").outcome, Answered, "a number that is asked for stands");
}

#[test]
fn nautical_miles_are_a_unit_of_decks_and_of_answers() {
    // MARPOL Annex IV, regulation 11: 12 nautical miles; 1852 m each (SI brochure, 8th edition, table 8).
    for value in ["12 nautical miles", "12 nmi", "12 NM"] {
        let card = figure(value, "");
        for text in
            ["12 nautical miles", "12 nm", "12 NM", "12 M", "12 n miles", "12 n.m.", "twelve miles", "22.224 km"]
        {
            assert_eq!(answer(&card, text).outcome, Answered, "{value}: {text}");
        }
    }
    assert_eq!(Quantity::parse("1 nautical mile").and_then(|mile| mile.convert("m")), Ok(1852.0));
    assert_eq!(Quantity::parse("30 L/nautical mile").map(|limit| limit.unit), Ok("L/nmi".to_owned()));
}

#[test]
fn turbidity_and_persons_are_units() {
    // MEPC.259(68), 10.1.4: turbidity no more than 25 FNU or 25 NTU above the inlet.
    let card = figure("25 FNU", "");
    for text in ["25 FNU", "25 NTU", "25 ntu"] {
        assert_eq!(answer(&card, text).outcome, Answered, "{text}");
    }
    assert_eq!(slip(&answer(&card, "25 ppm")), Some(SlipKind::Dimension));
    assert_eq!(slip(&answer(&card, "25")), Some(SlipKind::Unit));
    // MARPOL Annex IV, regulation 2: certified for more than 15 persons.
    for text in ["15 persons", "15 people", "fifteen persons"] {
        assert_eq!(answer(&figure("15 persons", ""), text).outcome, Answered, "{text}");
    }
}

#[test]
fn what_is_said_of_a_plain_number_names_no_empty_unit() {
    let marking = answer(&figure("4", ""), "4 ppm");
    assert_eq!(marking.outcome, Missed);
    assert_eq!(marking.reason, "The number is right, but as a plain number, not in ppm.");
    let marking = answer(&figure("4 %", ""), "4 ppm");
    assert_eq!(marking.reason, "The number is right, but in %, not in ppm.");
}

const BURNS: &str = r#"
asks = "t"
[working.givens]
power = { from = "8000 kW", to = "9000 kW", step = "500 kW" }
consumption = { from = "170 g/kWh", to = "174 g/kWh", step = "2 g/kWh" }
[[working.line]]
name = "rate"
is = "power * consumption"
[working.answer]
is = "rate"
unit = "t/day"
within = "1 %"
[[working.slip]]
is = "rate / 24"
tell = "That is for one hour."
"#;

fn worked(card: &Card, givens: &[(&str, &str)], text: &str) -> Marking {
    let givens = givens.iter().map(|(name, figure)| ((*name).to_owned(), (*figure).to_owned())).collect();
    let worked = Worked { seed: None, givens, text: text.to_owned(), lines: Vec::new(), first: None };
    mark(card, &Answer::of(Given::Worked(worked))).expect("marked")
}

#[test]
fn an_amount_is_right_where_the_question_asks_for_it() {
    // 8500 kW at 171 g/kWh: 34.88 t in a day.
    let card = credit::card(BURNS);
    let tried = |text: &str| worked(&card, &[("power", "8500 kW"), ("consumption", "171 g/kWh")], text);
    let right = ["34.9 t", "34.9 tonnes", "34,900 kg", "34.9 t/day", "34.9 t a day", "1.454 t/h", "34.9 t in 24 hours"];
    for text in right {
        assert_eq!(tried(text).outcome, Answered, "{text}: {:?}", tried(text));
    }
    let bare = tried("34.9");
    assert_eq!((bare.outcome, bare.reason.as_str()), (Prompted, "The number is right, but say its unit: t."));
    let hour = tried("1.454 t");
    assert_eq!((hour.outcome, slip(&hour)), (Missed, Some(SlipKind::Deck)), "{hour:?}");
    assert_eq!(slip(&tried("349 t")), Some(SlipKind::PowerOfTen));
    let other = tried("34.9 m3");
    assert_eq!(slip(&other), Some(SlipKind::Dimension));
    assert!(other.reason.ends_with("the answer is in t."), "{other:?}");
    // Without `asks` it is no answer.
    let card = credit::card(&BURNS.replace("asks = \"t\"", ""));
    let marking = worked(&card, &[("power", "8500 kW"), ("consumption", "171 g/kWh")], "34.9 t");
    assert_eq!((marking.outcome, slip(&marking)), (Missed, Some(SlipKind::Dimension)));
    // The unit asked for need not be the one that the card counts in.
    let card = credit::card(&BURNS.replace("asks = \"t\"", "asks = \"kg\""));
    let tried = |text: &str| worked(&card, &[("power", "8500 kW"), ("consumption", "171 g/kWh")], text).outcome;
    assert_eq!(
        [tried("34880 kg"), tried("34.88 t"), tried("34880"), tried("34.88")],
        [Answered, Answered, Prompted, Missed]
    );
}

#[test]
fn bundled_questions_for_an_amount_take_the_amount() {
    let asked: Vec<(&str, &str)> = vec![
        ("calculations/fuel-per-day-at-new-speed", "t"),
        ("calculations/cylinder-oil-per-day", "L"),
        ("calculations/daily-fuel-from-load", "t"),
        ("calculations/fresh-water-generator", "t"),
        ("calculations/oil-per-mile", "L"),
    ];
    let cards = bundled::of_kind(Kind::Working);
    for card in &cards {
        let Body::Working(working) = &card.body else { panic!("{}", card.key) };
        let key = card.key.to_string();
        let expected = asked.iter().find(|(known, _)| *known == key).map(|(_, unit)| (*unit).to_owned());
        assert_eq!(working.asks.as_ref().map(|asks| asks.unit.spelling.clone()), expected, "{key}");
        let is_amount =
            [" in a day", " litres a day", " in each nautical mile"].iter().any(|ask| card.ask.contains(ask));
        assert_eq!(is_amount, expected.is_some(), "{key}: {}", card.ask);
        let Some(unit) = expected else { continue };
        let given = |text: String| Worked { seed: Some(7), text, ..Worked::default() };
        let marking = mark(card, &Answer::of(Given::Worked(given("1 m4".to_owned())))).expect("marked");
        let Detail::Working(working::Told { expected, .. }) = marking.detail else { panic!("{key}") };
        let number = expected.split(' ').next().expect("a number");
        let amount = mark(card, &Answer::of(Given::Worked(given(format!("{number} {unit}"))))).expect("marked");
        assert_eq!(amount.outcome, Answered, "{key}: {number} {unit}: {}", amount.reason);
        assert!(!draw(working, 7).is_empty());
    }
}

const RATIO: &str = r#"
[working.givens]
a = { from = "8", to = "16", step = "4" }
b = { from = "2", to = "4", step = "2" }
[[working.line]]
name = "ratio"
is = "a / b"
[[working.line]]
name = "share"
is = "b / a"
[[working.line]]
name = "excess"
is = "ratio - 1 + 0 * share"
[working.answer]
is = "excess"
unit = "%"
within = "1 %"
"#;

#[test]
fn a_ratio_above_one_is_a_number_though_the_answer_is_in_percent() {
    let card = credit::card(RATIO);
    let marking = worked(&card, &[("a", "8"), ("b", "2")], "300 %");
    assert_eq!(marking.outcome, Outcome::Answered);
    let Detail::Working(working::Told { lines, .. }) = marking.detail else { panic!("a working") };
    let lines: Vec<&str> = lines.iter().map(|line| line.value.as_str()).collect();
    assert_eq!(lines, ["4.000", "25.00 %", "300.0 %"]);
}
