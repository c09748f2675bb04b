//! Messages that once misled those who followed them: each names what is wrong where it is, and what it advises is right at
//! the next check.

use std::fs;

use bedplate::deck::{Reading, Severity, read_deck};
use tempfile::TempDir;

const HEAD: &str = "id = \"told\"\ntitle = \"Told\"\nedition = 1\nlanguage = \"en\"\npublisher = \"Marram Light\"\n\
    licence = \"CC-BY-4.0\"\n\n[source.practice]\ntitle = \"common practice, no published source\"\nkind = \"practice\"\n";

fn deck(files: &[(&str, &str)]) -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::create_dir_all(folder.path().join("pictures")).expect("made");
    fs::create_dir_all(folder.path().join("cards")).expect("made");
    for (name, text) in files {
        fs::write(folder.path().join(name), text).expect("written");
    }
    folder
}

fn card(kind: &str, own: &str) -> String {
    format!(
        "{kind}\nid = \"a\"\ntopic = \"A-III/1.1.4\"\nask = \"What first?\"\nbecause = \"So.\"\nsources = [\"practice\"]\n\
         seconds = 9\n{own}\n"
    )
}

fn read(cards: &str) -> Reading {
    read_deck(deck(&[("deck.toml", HEAD), ("c.toml", cards)]).path())
}

/// What is told of these cards, problem by problem: line, message and mend.
fn told(cards: &str) -> Vec<(usize, String, String)> {
    read(cards).problems.into_iter().map(|problem| (problem.line, problem.message, problem.mend)).collect()
}

#[test]
fn two_heads_of_one_bracket_are_told_as_such_and_once_each() {
    let second =
        card("[recall]", "points = [{ say = \"Valve opens\" }]").replace("\"a\"", "\"b\"").replace("first", "then");
    let text = card("[recall]", "points = [{ say = \"Pump stops\" }]") + "\n" + &second;
    let told = told(&text);
    assert_eq!(told.iter().map(|(line, ..)| *line).collect::<Vec<_>>(), [1, 10], "{told:?}");
    assert!(told.iter().all(|(_, _, mend)| mend.contains("[[recall]] with two brackets")), "{told:?}");
    assert!(read(&text.replace("[recall]", "[[recall]]")).problems.is_empty());
}

#[test]
fn a_quotation_mark_inside_a_text_is_no_missing_comma() {
    for own in [
        "points = [{ say = \"The \"own\" pump stops\" }]",
        "points = [{ say = \"Pump stops\" }]\ncaution = \"The \"own\" pump\"",
    ] {
        let told = told(&card("[[recall]]", own));
        let [(_, message, mend)] = &told[..] else { panic!("{own}: {told:?}") };
        assert!(message.contains("the quotation mark before this ends the text"), "{message}");
        assert!(mend.contains("write \\\" for it"), "{mend}");
        assert!(read(&card("[[recall]]", &own.replace("\"own\"", "\\\"own\\\""))).problems.is_empty(), "{own}");
    }
}

#[test]
fn yes_and_no_are_written_as_true_and_false() {
    for (word, right) in [("yes", "true"), ("No", "false"), ("True", "true"), ("off", "false")] {
        let own = |value: &str| format!("points = [{{ say = \"Pump stops\", critical = {value} }}]");
        let told = told(&card("[[recall]]", &own(word)));
        let [(8, _, mend)] = &told[..] else { panic!("{word}: {told:?}") };
        assert!(mend.starts_with(&format!("write {right},")), "{word}: {mend}");
        assert!(read(&card("[[recall]]", &own(right))).problems.is_empty());
    }
}

#[test]
fn a_bare_tolerance_is_given_the_unit_of_its_value() {
    for (value, within, advised) in [("30 bar", "1", "within = \"1 bar\""), ("0.7", "0.1", "within = \"0.1\"")] {
        let told = told(&card("[[figure]]", &format!("value = \"{value}\"\nwithin = {within}")));
        let [(9, message, mend)] = &told[..] else { panic!("{told:?}") };
        assert!(message.contains("`within` must be a text in quotes"), "{message}");
        assert!(mend.contains(advised), "{mend}");
        assert!(read(&card("[[figure]]", &format!("value = \"{value}\"\n{advised}"))).problems.is_empty(), "{advised}");
    }
    let told = told(&card("[[figure]]", "value = 30"));
    assert!(told[0].2.contains("with its unit, such as value = \"30 bar\""), "{told:?}");
}

#[test]
fn a_drawing_that_is_not_closed_is_told_by_its_own_line() {
    let point = card("[[point]]", "drawing = \"pictures/p.svg\"\npart = \"valve\"");
    let sound = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 90 90\">\n<g id=\"tank\"><title>tank</title><desc>left</desc>\n\
        <rect width=\"9\" height=\"9\"/></g>\n<g id=\"valve\"><title>valve</title><desc>right</desc>\n\
        <rect x=\"50\" width=\"9\" height=\"9\"/>\n</g>\n</svg>\n";
    let of = |svg: &str| read_deck(deck(&[("deck.toml", HEAD), ("c.toml", &point), ("pictures/p.svg", svg)]).path());
    assert!(of(sound).problems.is_empty(), "{:?}", of(sound).problems);
    for (svg, message, mend) in [
        (
            sound.replace("\n</g>\n</svg>", "\n</svg>"),
            "on its line 6 stands </svg>, and <g> is still open",
            "close it there with </g>",
        ),
        (sound.replace("</svg>", ""), "it ends before </svg>", "write </svg> at its end"),
    ] {
        let problems = of(&svg).problems;
        assert_eq!(problems.len(), 1, "{problems:?}");
        assert!(problems[0].message.contains(message) && problems[0].mend.contains(mend), "{problems:?}");
    }
}

#[test]
fn files_that_are_not_read_because_of_their_names_are_told() {
    let recall = card("[[recall]]", "points = [{ say = \"Pump stops\" }]");
    let folder = deck(&[
        ("deck.toml", HEAD),
        ("c.toml", &recall),
        ("C2.TOML", "x"),
        ("deck.toml.txt", HEAD),
        ("cards/d.toml.txt", "x"),
    ]);
    fs::create_dir(folder.path().join("Card")).expect("made");
    let reading = read_deck(folder.path());
    let told: Vec<&str> =
        reading.problems.iter().map(|problem| problem.mend.split('`').nth(1).expect("a name")).collect();
    assert!(
        reading.problems.iter().all(|problem| problem.code == "unread-file" && problem.severity == Severity::Warning)
    );
    assert_eq!(told, ["C2.toml", "cards", "d.toml", "deck.toml"], "{:?}", reading.problems);
    assert_eq!(reading.counts["recall"], 1);
    // Where the deck's own file has such a name there is no deck, and the name is told.
    let misnamed = deck(&[("deck.toml.txt", HEAD), ("c.toml", &recall)]);
    let reading = read_deck(misnamed.path());
    assert!(
        !reading.readable && reading.problems[0].message.contains("a file `deck.toml.txt`"),
        "{:?}",
        reading.problems
    );
    assert!(reading.problems[0].mend.contains("name that file deck.toml"));
}
