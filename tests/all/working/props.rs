//! Workings whatever comes: any text is met without a panic, and the right answer in any unit is marked right.

use bedplate::deck::read_deck;
use bedplate::domain::answer::{Answer, Given, Worked};
use bedplate::domain::card::Card;
use bedplate::domain::kinds::Body;
use bedplate::domain::marking::mark;
use bedplate::domain::outcome::Outcome;
use bedplate::domain::quantity::{Expression, Quantity, Scope, Unit, Value, known_units};
use bedplate::domain::working::{Method, Working, draw, evaluate};
use proptest::prelude::*;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use crate::support::bundled;

/// Every working of the decks that come with the program and of the sound decks of the tests.
static WORKINGS: LazyLock<Vec<Card>> = LazyLock::new(|| {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let entries = fs::read_dir(root.join("tests/decks")).expect("readable").flatten().map(|entry| entry.path());
    let is_sound = |path: &PathBuf| path.file_name().is_some_and(|name| name.to_string_lossy().starts_with("sound"));
    let sound = entries.filter(|path| path.is_dir() && is_sound(path));
    let of_tests = sound.filter_map(|folder| read_deck(&folder).deck).flat_map(|deck| deck.cards);
    bundled::cards().into_iter().chain(of_tests).filter(|card| matches!(card.body, Body::Working(_))).collect()
});

fn working(card: &Card) -> &Working {
    match &card.body {
        Body::Working(working) => working,
        other => panic!("{other:?}"),
    }
}

/// The units in which people could give an answer of this card.
fn units(working: &Working) -> Vec<&'static str> {
    let own = Unit::parse(&working.unit).expect("a unit");
    known_units()
        .filter(|unit| {
            let bare_share = own.is_bare() && !unit.is_empty();
            !bare_share && Unit::parse(unit).is_ok_and(|unit| unit.dimension == own.dimension)
        })
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    #[test]
    fn the_right_answer_is_right_in_any_unit(at in any::<prop::sample::Index>(), seed in any::<u64>()) {
        let card = at.get(&WORKINGS);
        let working = working(card);
        let figures = draw(working, seed);
        let method = Method::new(working).expect("sound");
        let answer = method.work(&figures).expect("an answer").answer;
        let own = Unit::parse(&working.unit).expect("a unit");
        let mut tried = 0;
        for unit in std::iter::once(working.unit.as_str()).chain(units(working)) {
            let number = own.convert(answer, &Unit::parse(unit).expect("a unit")).expect("of one kind");
            let text = format!("{number:.12} {unit}");
            // Twelve decimals are not enough for a pressure in gigapascals of a draught.
            if number != 0.0 && number.abs() < 1e-4 {
                continue;
            }
            let worked = Worked { seed: Some(seed), text: text.clone(), ..Worked::default() };
            let marking = mark(card, &Answer::of(Given::Worked(worked))).expect("marked");
            prop_assert_eq!(marking.outcome, Outcome::Answered, "{}: {} of {:?}: {:?}", card.key, text, figures, marking);
            tried += 1;
        }
        prop_assert!(tried > 0);
    }

    #[test]
    fn the_methods_own_lines_on_the_worksheet_agree_with_it(at in any::<prop::sample::Index>(), seed in any::<u64>()) {
        let card = at.get(&WORKINGS);
        let working = working(card);
        let figures = draw(working, seed);
        let right = Method::new(working).expect("sound").work(&figures).expect("an answer");
        let givens: Vec<(String, Quantity)> =
            working.givens.iter().map(|given| given.name.clone()).zip(figures).collect();
        let lines: Vec<String> = working.lines.iter().map(|line| format!("{} = {}", line.name, line.is)).collect();
        for ((line, result), right) in lines.iter().zip(evaluate(&givens, &lines, Some(&working.unit))).zip(&right.lines) {
            prop_assert!(result.error.is_none(), "{line}: {result:?}");
            prop_assert_eq!(result.value.map(|value| value.base_number()), Some(right.base_number()), "{}", line);
        }
    }
}

/// Pieces of expressions, sound and broken.
fn pieces() -> impl Strategy<Value = String> {
    let piece = prop::sample::select(vec![
        "1",
        "2.5",
        "1e9",
        "1e99",
        "1e999",
        "0",
        "4,320",
        "2,5",
        "320 mm",
        "85 degC",
        "-18 °C",
        "9.81 m/s^2",
        "kJ/(kg K)",
        "5 %",
        "‰",
        "bore",
        "pm",
        "t",
        "x",
        "N",
        "kW",
        "bar",
        "(",
        ")",
        "((((((((",
        "))))",
        "+",
        "-",
        "−",
        "*",
        "/",
        "÷",
        "·",
        "^",
        "^^",
        "²",
        "⁻¹",
        "³",
        ",",
        ".",
        "..",
        "=",
        "√",
        "π",
        "pi",
        "sqrt(",
        "ln(",
        "min(",
        "h_g(",
        "h_pt(",
        "t_sat(",
        "ceil(",
        " ",
        "\n",
        "_",
        "µ",
        "Ω",
        "½",
        "\"",
        "let",
        "fn f(x)",
        "é",
        "🚢",
        "\u{202e}",
        "10^10^10",
        "99999999999999999999",
        "^0.2857",
        "450 kVA",
        "75 rad/s",
        "30 deg",
    ]);
    prop::collection::vec(piece, 0..40).prop_map(|pieces| pieces.concat())
}

fn scope() -> Scope {
    let mut scope = Scope::new();
    for (name, figure) in [("bore", "320 mm"), ("pm", "16.2 bar"), ("t", "85 degC"), ("x", "0")] {
        scope.set(name, Value::of(&Quantity::parse(figure).expect(figure)).expect(figure));
    }
    scope
}

fn meets(text: &str) -> Result<(), TestCaseError> {
    for read in [Expression::parse(text), Expression::parse_typed(text)] {
        let found = read.and_then(|read| read.evaluate(&scope()));
        match found {
            Ok(value) => {
                prop_assert!(value.base_number().is_finite());
                prop_assert!(!value.text(4, None).is_empty());
            }
            Err(error) => {
                prop_assert!(error.span.start <= error.span.end && error.span.end <= text.len(), "{error:?}");
                prop_assert!(text.is_char_boundary(error.span.start) && text.is_char_boundary(error.span.end));
                prop_assert!(!error.message.is_empty() && !error.mend.is_empty());
            }
        }
    }
    let lines = vec![text.to_owned(), format!("a = {text}"), format!("{text} = a"), "b = a * 2".to_owned()];
    for (line, result) in lines.iter().zip(evaluate(&[], &lines, Some("kW"))) {
        if let Some(error) = result.error {
            prop_assert!(error.span.end <= line.len() && line.is_char_boundary(error.span.start), "{error:?}");
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2_000, ..ProptestConfig::default() })]

    #[test]
    fn pieces_of_expressions_are_met_without_a_panic(text in pieces()) {
        meets(&text)?;
    }

    #[test]
    fn any_text_is_met_without_a_panic(text in any::<String>()) {
        meets(&text)?;
    }
}

#[test]
fn hostile_texts_are_bounded() {
    let long = "1+".repeat(100_000) + "1";
    let deep = "(".repeat(100_000);
    let powers = "9^".repeat(190) + "9";
    let signs = "-".repeat(399) + "1";
    let nested = format!("{}1{}", "sqrt(".repeat(60), ")".repeat(60));
    for (text, message) in [
        (long.as_str(), "more than 400 characters"),
        (deep.as_str(), "more than 400 characters"),
        (&deep[..300], "32 deep"),
        (nested.as_str(), "32 deep"),
        (powers.as_str(), "too large"),
    ] {
        let found = Expression::parse(text).and_then(|read| read.evaluate(&Scope::new()));
        let error = found.expect_err("refused");
        assert!(error.message.contains(message), "{}", error.message);
    }
    let found = Expression::parse(&signs).and_then(|read| read.evaluate(&Scope::new()));
    assert_eq!(found.expect("a value").base_number(), -1.0);
    let roots = "√".repeat(300) + "2";
    assert!(Expression::parse(&roots).is_err_and(|error| error.message.contains("32 deep")));
    let lines: Vec<String> = (0..5_000).map(|n| format!("a{n} = {n}")).collect();
    let results = evaluate(&[], &lines, None);
    assert_eq!(results.len(), 5_000);
    assert!(results[199].value.is_some() && results[200].value.is_none() && results[200].note.is_some());
}
