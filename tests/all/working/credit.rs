//! Credit for the method: right lines with a slip in one are prompted; and slips told that no deck names.

use bedplate::deck::read_deck;
use bedplate::domain::answer::{Answer, Given, Worked};
use bedplate::domain::card::Card;
use bedplate::domain::kinds::Detail;
use bedplate::domain::kinds::working::{self, WorkMark};
use bedplate::domain::marking::{Marking, mark};
use bedplate::domain::outcome::Outcome::{self, Answered, Missed, Prompted};
use std::fs;

const HEAD: &str = "id = \"trial\"\ntitle = \"Trial\"\nedition = 1\nlanguage = \"en\"\npublisher = \"Trial\"\n\
    licence = \"CC-BY-4.0\"\n[source.practice]\ntitle = \"common practice, no published source\"\nkind = \"practice\"\n";

/// A card of a deck written for the test; no problem may be found in it.
pub fn card(body: &str) -> Card {
    let folder = tempfile::tempdir().expect("a folder");
    let common = "[[working]]\nid = \"trial\"\ntopic = \"A-III/1.1.4\"\nask = \"Work it out.\"\n\
        because = \"So it is.\"\nsources = [\"practice\"]\nseconds = 100\n";
    fs::write(folder.path().join("deck.toml"), HEAD).expect("written");
    fs::write(folder.path().join("cards.toml"), format!("{common}{body}")).expect("written");
    let reading = read_deck(folder.path());
    assert!(reading.problems.is_empty(), "{:#?}", reading.problems);
    reading.deck.expect("a deck").cards.remove(0)
}

const ENGINE: &str = r#"
[working.givens]
cylinders = { from = "5", to = "9", step = "1" }
bore = { from = "280 mm", to = "400 mm", step = "10 mm" }
stroke = { from = "350 mm", to = "480 mm", step = "10 mm" }
pm = { from = "12 bar", to = "18 bar", step = "0.1 bar" }
speed = { from = "600 rpm", to = "900 rpm", step = "30 rpm" }
[[working.line]]
name = "area"
is = "pi * bore^2 / 4"
[[working.line]]
name = "work"
is = "pm * area * stroke"
[[working.line]]
name = "strokes"
is = "speed / 2"
[[working.line]]
name = "power"
is = "work * strokes * cylinders"
[working.answer]
is = "power"
unit = "kW"
within = "1 %"
[[working.slip]]
is = "2 * power"
tell = "A four-stroke fires every second revolution."
"#;

/// 1876 kW is right: area 0.08042 m2, work 52.12 kJ, 360 working strokes a minute.
const FIGURES: &[(&str, &str)] =
    &[("cylinders", "6"), ("bore", "320 mm"), ("stroke", "400 mm"), ("pm", "16.2 bar"), ("speed", "720 rpm")];

fn tried(card: &Card, figures: &[(&str, &str)], lines: &[&str], text: &str) -> (Marking, Vec<WorkMark>) {
    let worked = Worked {
        seed: None,
        givens: figures.iter().map(|(name, figure)| ((*name).to_owned(), (*figure).to_owned())).collect(),
        text: text.to_owned(),
        lines: lines.iter().map(|line| (*line).to_owned()).collect(),
        first: None,
    };
    let marking = mark(card, &Answer::of(Given::Worked(worked))).expect("marked");
    let Detail::Working(working::Told { worksheet, .. }) = marking.detail.clone() else { panic!("{marking:?}") };
    (marking, worksheet)
}

#[track_caller]
fn engine(lines: &[&str], text: &str, outcome: Outcome, reason: &str) -> Vec<WorkMark> {
    let (marking, worksheet) = tried(&card(ENGINE), FIGURES, lines, text);
    assert_eq!(marking.outcome, outcome, "{marking:#?}");
    assert!(marking.reason.contains(reason), "{marking:#?}");
    assert_eq!(worksheet.len(), lines.len());
    worksheet
}

fn agrees(worksheet: &[WorkMark]) -> Vec<&str> {
    worksheet.iter().map(|mark| mark.agrees.as_deref().unwrap_or("-")).collect()
}

#[test]
fn a_right_answer_is_right_and_its_lines_stand_beside_the_methods() {
    let lines = ["A = π/4 · bore²", "V = A · stroke", "W = pm · V", "n = speed / 2", "P = W · n · 6"];
    let worksheet = engine(&lines, "1876 kW", Answered, "is right");
    assert_eq!(agrees(&worksheet), ["area", "-", "work", "strokes", "power"]);
    assert_eq!(worksheet[0].value.as_deref(), Some("0.08042 m2"));
    assert!(worksheet.iter().all(|mark| mark.tell.is_none()));
}

#[test]
fn one_wrong_line_that_all_else_follows_from_is_prompted() {
    // The diameter for the radius in the first line: the area is four times too large, and so is all that follows.
    let lines = ["A = π · bore²", "W = pm · A · stroke", "n = speed / 2", "P = W · n · 6"];
    let worksheet = engine(&lines, "7505 kW", Prompted, "One slip, in line 1; the rest follows.");
    assert_eq!(agrees(&worksheet), ["-", "work", "strokes", "power"]);
    let tell = worksheet[0].tell.as_deref().expect("told");
    assert!(tell.contains("`area` is 0.08042 m2") && tell.contains("diameter for the radius"), "{tell}");
    assert!(worksheet[1].tell.as_deref().is_some_and(|tell| tell.contains("but for the slip")));
    assert_eq!(worksheet[2].tell, None);
    // In a line in the middle.
    engine(&["A = pi/4*bore^2", "W = pm*A*stroke", "n = speed"], "3752 kW", Prompted, "in line 3");
    // The same answer without a worksheet is missed, and the deck's slip told.
    let (marking, _) = tried(&card(ENGINE), FIGURES, &[], "3752 kW");
    assert_eq!((marking.outcome, marking.reason.as_str()), (Missed, "A four-stroke fires every second revolution."));
}

#[test]
fn a_slip_in_the_last_line_is_prompted_where_the_others_stand() {
    let right = ["A = pi/4*bore^2", "W = pm*A*stroke", "n = speed/2"];
    let lines = |last: &'static str| [right.as_slice(), &[last]].concat();
    engine(&lines("P = W*n"), "312.7 kW", Prompted, "Left out: Cylinders");
    engine(&lines("P = W*n*7"), "2189 kW", Prompted, "One slip, in line 4");
    engine(&right, "18760 kW", Prompted, "10 times too large");
    // Not where the answer has nothing to do with the lines.
    engine(&right, "2189 kW", Missed, "is not 1876 kW");
    engine(&right[..1], "2189 kW", Missed, "is not 1876 kW");
    // A wrong sheet has no credit.
    engine(&["A = 3 * bore^2", "W = pm * A"], "2189 kW", Missed, "is not 1876 kW");
}

#[test]
fn a_right_worksheet_with_another_answer_is_prompted() {
    let lines = ["A = pi/4*bore^2", "P = pm*A*stroke*speed/2*6"];
    for text in ["1786 kW", "1876 bar", "see above", "18.76 kW"] {
        engine(&lines, text, Prompted, "Line 2 has the right answer");
    }
}

#[test]
fn lines_that_cannot_be_worked_out_say_why_and_cost_nothing() {
    let worksheet = engine(&["A = pi/4*bor^2", "1876 kW"], "1876 kW", Answered, "is right");
    assert!(worksheet[0].tell.as_deref().is_some_and(|tell| tell.contains("did you mean `bore`")), "{worksheet:?}");
    assert_eq!(worksheet[0].value, None);
}

#[test]
fn slips_that_no_deck_names_are_told_where_one_alone_fits() {
    let engine = card(ENGINE);
    let reason = |card: &Card, figures: &[(&str, &str)], text: &str| {
        let (marking, _) = tried(card, figures, &[], text);
        assert_eq!(marking.outcome, Missed, "{marking:?}");
        marking.reason
    };
    assert!(reason(&engine, FIGURES, "7505 kW").contains("diameter for the radius"));
    assert!(reason(&engine, FIGURES, "1993 kW").contains("Absolute and gauge"));
    assert!(reason(&engine, FIGURES, "312.7 kW").contains("Left out: Cylinders"));
    assert!(reason(&engine, FIGURES, "31.27 kW").contains("factor of 60"));
    assert_eq!(reason(&engine, FIGURES, "1234 kW"), "1234 kW is not 1876 kW, within 1 %.");

    // 200000 Pa x 8 m3 / (287.05 J/(kg K) x 303.15 K) = 18.39 kg.
    let air = card(
        r#"
[working.givens]
p = { from = "1.5 bar", to = "3 bar", step = "0.1 bar", say = "Absolute pressure" }
volume = { from = "5 m3", to = "9 m3", step = "1 m3" }
t_air = { from = "20 degC", to = "40 degC", step = "1 K" }
[working.answer]
is = "p * volume / (287.05 J/(kg K) * t_air)"
unit = "kg"
within = "0.5 %"
"#,
    );
    let figures = &[("p", "2 bar"), ("volume", "8 m3"), ("t_air", "30 degC")];
    assert!(reason(&air, figures, "185.8 kg").contains("°C where kelvins"));
    assert!(reason(&air, figures, "9.07 kg").contains("Absolute and gauge"));

    let shaft = card(
        r#"
[working.givens]
heat = { from = "400 kW", to = "800 kW", step = "20 kW" }
efficiency = { from = "0.80", to = "0.95", step = "0.01" }
[working.answer]
is = "heat * efficiency"
unit = "kW"
within = "0.5 %"
"#,
    );
    let figures = &[("heat", "600 kW"), ("efficiency", "0.9")];
    assert!(reason(&shaft, figures, "600 kW").contains("Left out: Efficiency"));
    assert!(reason(&shaft, figures, "666.7 kW").contains("Turned over: Efficiency"));
}
