//! `bedplate draft` from outside: sheets made by other programs (`tests/reference/sheets/make.py`), by hand and by this
//! program become cards; whatever else they hold is told by row and column.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;
use bedplate::deck::{Severity, read_deck};
use bedplate::sheets;
use tempfile::TempDir;

const HEAD: &str = "id = \"sheeted\"\ntitle = \"From a sheet\"\nedition = 1\nlanguage = \"en\"\npublisher = \"Marram Light\"\n\
    licence = \"CC-BY-4.0\"\n\n[source.practice]\ntitle = \"common practice, no published source\"\nkind = \"practice\"\n";
/// The headings of most sheets here.
pub const COLUMNS: &str =
    "kind,id,topic,heading,question,point 1,point 2,point 3,accepted words,accepted words 2,value,within,reason,source";

/// What the sheets `questions.*` come to.
const QUESTIONS: &str = r#"[[recall]]
id = "priming-pump"
topic = "A-III/1.1.4"
heading = "Starting"
ask = "Why does the priming pump of an auxiliary engine stop soon after the start?"
points = [
  { say = "The engine's own pump now supplies the bearings", accept = ["own pump supplies", "attached pump takes over"], critical = true },
  { say = "A pressure switch stops it", accept = ["switch sees pressure"] },
]
because = "It fills the bearings before the first turn."
sources = ["practice"]

[[figure]]
id = "7"
topic = "A-III/1.1.4"
ask = "At what gauge pressure is control air supplied?"
value = "7.5 bar"
within = "2 %"
because = "Most controls are made for it."
sources = ["practice"]

[[why]]
id = "blackout-chain"
topic = "A-III/1.2.1"
ask = "Put the causes of the blackout in order."
links = ["The strainer chokes", "The cooling water grows hot", "The engine trips"]
because = "The alarm list shows it."
sources = ["practice"]
"#;

pub fn reference(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/sheets").join(name)
}

/// A deck without cards, in a folder beside which a sheet can be put.
pub fn deck() -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::create_dir(folder.path().join("deck")).expect("made");
    fs::write(folder.path().join("deck/deck.toml"), HEAD).expect("written");
    folder
}

/// Exit code, standard output and standard error.
pub fn draft(folder: &TempDir, sheet: &Path, more: &[&str]) -> (i32, String, String) {
    let mut command = Command::cargo_bin("bedplate").expect("the program is built");
    command.arg("draft").arg(sheet).arg("--into").arg(folder.path().join("deck")).arg("--plain").args(more);
    told(command)
}

fn told(mut command: Command) -> (i32, String, String) {
    let output = command.output().expect("it runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("UTF-8");
    (output.status.code().expect("no signal"), text(output.stdout), text(output.stderr))
}

/// A sheet of this text beside the deck.
pub fn written(folder: &TempDir, name: &str, text: impl AsRef<[u8]>) -> PathBuf {
    let path = folder.path().join(name);
    fs::write(&path, text).expect("written");
    path
}

/// Every file of the deck with its bytes.
pub fn bytes(folder: &TempDir) -> BTreeMap<PathBuf, Vec<u8>> {
    fn add(folder: &Path, files: &mut BTreeMap<PathBuf, Vec<u8>>) {
        for entry in fs::read_dir(folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                add(&path, files);
            } else {
                files.insert(path.clone(), fs::read(path).expect("readable"));
            }
        }
    }
    let mut files = BTreeMap::new();
    add(&folder.path().join("deck"), &mut files);
    files
}

/// Where each complaint is, without the name of the sheet.
pub fn places(out: &str) -> Vec<String> {
    let lines = out.lines().filter(|line| line.starts_with("Error in"));
    lines.map(|line| line.split_once(", ").map_or(line, |(_, place)| place).to_owned()).collect()
}

#[test]
fn the_same_questions_come_to_the_same_cards_from_every_type_of_sheet() {
    for name in ["questions.xlsx", "questions.ods", "questions.csv"] {
        let folder = deck();
        let (code, out, err) = draft(&folder, &reference(name), &[]);
        assert_eq!(code, 0, "{name}: {out}{err}");
        assert!(
            out.contains("3 cards new, 0 cards changed, 0 cards as before; written: cards/questions.toml"),
            "{out}"
        );
        assert_eq!(err.contains("“Sheet” is read, and 1 other not"), name == "questions.xlsx", "{err}");
        let text = fs::read_to_string(folder.path().join("deck/cards/questions.toml")).expect("it is there");
        assert_eq!(text, QUESTIONS, "{name}");
        let reading = read_deck(&folder.path().join("deck"));
        assert!(reading.problems.iter().all(|problem| problem.severity == Severity::Advice), "{:#?}", reading.problems);
        let before = bytes(&folder);
        let (code, out, _) = draft(&folder, &reference(name), &[]);
        assert_eq!(code, 0);
        assert!(out.contains("0 cards new, 0 cards changed, 3 cards as before; no file is changed"), "{out}");
        assert_eq!(bytes(&folder), before, "{name}: the same sheet again leaves every byte as it is");
    }
}

#[test]
fn what_spreadsheets_do_to_questions_is_told_by_row_and_column() {
    for (name, more) in [("spoilt.xlsx", true), ("spoilt.ods", false)] {
        let folder = deck();
        let before = bytes(&folder);
        let (code, out, err) = draft(&folder, &reference(name), &[]);
        assert_eq!((code, err.as_str()), (1, ""), "{name}: {out}");
        let mut wanted = vec![
            "row 2, column F (point 1)",
            "row 3, column F (point 1)",
            "row 4, column A (kind)",
            "row 5, column K (value)",
            "row 6, column H (point 3)",
            "row 7, column B (id)",
            "row 9, column K (value)",
            "row 10, column M (reason)",
            "row 11, column K (value)",
        ];
        if more {
            wanted.push("row 12, column K (value)");
        }
        assert_eq!(places(&out), wanted, "{name}: {out}");
        for words in ["made a date", "true or false", "sequence card cannot stand in one row", "two ways", "no point 2"]
        {
            assert!(out.contains(words), "{name}: `{words}` in {out}");
        }
        for words in ["`barr`", "is merged with others", "does not hold the result", "Nothing was written"] {
            assert!(out.contains(words), "{name}: `{words}` in {out}");
        }
        assert_eq!(bytes(&folder), before, "{name}: nothing is written");
        let (code, out, _) = draft(&folder, &reference(name), &["--keep-good"]);
        assert_eq!(code, 1);
        assert_eq!(places(&out), wanted, "{name}: {out}");
        let text = fs::read_to_string(folder.path().join("deck/cards/spoilt.toml")).expect("the good row is there");
        assert_eq!(text.matches("[[").count(), 1, "{text}");
        assert!(text.contains("id = \"right\"") && text.contains("value = \"30 bar\""), "{text}");
    }
}

#[test]
fn a_card_that_stands_there_is_changed_in_its_place_and_nothing_else_is() {
    let folder = deck();
    let before = "# Kept by hand.\r\n[[figure]]   # the first\r\nid = \"full-air\"\r\ntopic = \"A-III/1.1.4\"\r\n\
        ask = 'To what pressure are receivers filled?'   # asked often\r\nvalue = \"25 bar\" # to be mended\r\n\
        sources = [ \"practice\" ]\r\nseconds = 8\r\n\r\n# Not in the sheet.\r\n[[recall]]\r\nid = \"other\"\r\n\
        topic = \"A-III/1.1.4\"\r\nask = \"What else?\"\r\nbecause = \"So it is.\"\r\nseconds = 9\r\n\
        points = [{ say = \"Nothing\" }]\r\nsources = [\"practice\"]\r\n";
    fs::write(folder.path().join("deck/air.toml"), before).expect("written");
    let rows = "figure,full-air,A-III/1.1.4,Air,To what pressure are receivers filled?,,,,,,30 bar,1 bar,,practice\n\
        why,chain,A-III/1.2.1,,Why?,First,Then,,,,,,Because.,practice\n";
    let sheet = written(&folder, "My sheet (2).csv", format!("{COLUMNS}\n{rows}"));
    let (code, out, err) = draft(&folder, &sheet, &[]);
    assert_eq!(code, 0, "{out}{err}");
    let after = fs::read_to_string(folder.path().join("deck/air.toml")).expect("it is there");
    let wanted = before
        .replace("topic = \"A-III/1.1.4\"\r\nask = 'To", "topic = \"A-III/1.1.4\"\r\nheading = \"Air\"\r\nask = 'To")
        .replace("value = \"25 bar\" # to be mended", "value = \"30 bar\" # to be mended\r\nwithin = \"1 bar\"");
    assert_eq!(after, wanted);
    assert!(folder.path().join("deck/cards/my-sheet-2.toml").is_file(), "{out}");
    let before = bytes(&folder);
    assert_eq!(draft(&folder, &sheet, &[]).0, 0);
    assert_eq!(bytes(&folder), before);
}

#[test]
fn new_cards_go_behind_those_of_a_file_of_the_same_name_in_any_letters() {
    let folder = deck();
    fs::create_dir(folder.path().join("deck/cards")).expect("made");
    let own = "# Written by hand.\n[[why]]\nid = \"chain\"\ntopic = \"A-III/1.2.1\"\nask = \"Why so?\"\nlinks = [\"a\", \"b\"]\n\
        because = \"So.\"\nsources = [\"practice\"]\nseconds = 9\n";
    fs::write(folder.path().join("deck/cards/Questions.toml"), own).expect("written");
    let (code, out, err) = draft(&folder, &reference("questions.csv"), &[]);
    assert_eq!(code, 0, "{out}{err}");
    let text = fs::read_to_string(folder.path().join("deck/cards/Questions.toml")).expect("it is there");
    assert_eq!(text, format!("{own}\n{QUESTIONS}"));
}

#[test]
fn points_keep_what_the_sheet_does_not_know_of() {
    let card = |points: &str, more: &str| {
        format!(
            "[[recall]]\nid = \"a\"\ntopic = \"A-III/1.1.4\"\nask = \"What first?\"\npoints = {points}\n\
             because = \"So.\"\nsources = [\"practice\"]\nseconds = 9\n{more}"
        )
    };
    let two = "[\n  # the first\n  { say = \"Stop the pump\", accept = [\"pump stopped\"], reject = [\"leave it running\"] }, # kept\n  { say = \"Call the bridge\" },\n]";
    let row = |points: &str| format!("{COLUMNS}\nrecall,a,A-III/1.1.4,,What first?,{points},,,So.,practice\n");
    let run = |points: &str, more: &str, cells: &str| {
        let folder = deck();
        fs::write(folder.path().join("deck/a.toml"), card(points, more)).expect("written");
        let sheet = written(&folder, "s.csv", row(cells));
        let (code, out, err) = draft(&folder, &sheet, &[]);
        (code, out + &err, fs::read_to_string(folder.path().join("deck/a.toml")).expect("it is there"))
    };
    // A third point, and one made safety-critical: everything else stays as it was.
    let (code, out, text) = run(two, "", "Stop the pump,!Call the bridge,Log it,,bridge informed");
    assert_eq!(code, 0, "{out}");
    let wanted = two.replace(
        "{ say = \"Call the bridge\" },",
        "{ say = \"Call the bridge\", accept = [\"bridge informed\"], critical = true },\n  { say = \"Log it\" },",
    );
    assert_eq!(text, card(&wanted, ""));
    // One point less.
    let (code, out, text) = run(two, "", "Stop the pump,,,,");
    assert_eq!(code, 0, "{out}");
    assert!(text.contains("reject = [\"leave it running\"] },\n]"), "{text}");
    assert!(out.contains("1 of its points are gone"), "{out}");
    // In another order each keeps its own phrases.
    let (code, out, text) = run(two, "", "Call the bridge,Stop the pump,,,");
    assert_eq!(code, 0, "{out}");
    let (bridge, pump) = (text.find("Call the bridge").expect("said"), text.find("Stop the pump").expect("said"));
    assert!(bridge < pump && text.find("leave it running").expect("kept") > pump, "{text}");
    // Not where follow-ups name them by number.
    let probes = "probes = [{ after = \"missed:2\", ask = \"Whom?\", points = [{ say = \"The bridge\" }] }]\n";
    let (code, out, text) = run(two, probes, "Call the bridge,Stop the pump,,,");
    assert_eq!((code, text), (1, card(two, probes)), "{out}");
    assert!(out.contains("row 2, column A (kind)") && out.contains("follow-ups"), "{out}");
    // Points under headers of their own are changed too.
    let headed = "[[recall.points]]\nsay = \"Stop the pump\" # by hand\nreject = [\"leave it running\"]\n";
    let apart = card("[]", headed).replace("points = []\n", "");
    let folder = deck();
    fs::write(folder.path().join("deck/a.toml"), &apart).expect("written");
    let sheet = written(&folder, "s.csv", row("!Stop the pump,,,pump stopped,"));
    let (code, out, _) = draft(&folder, &sheet, &[]);
    assert_eq!(code, 0, "{out}");
    let text = fs::read_to_string(folder.path().join("deck/a.toml")).expect("it is there");
    let added = "# by hand\naccept = [\"pump stopped\"]\ncritical = true\nreject";
    assert_eq!(text, apart.replace("# by hand\nreject", added));
}

#[test]
fn rows_that_stand_in_the_way_of_others_are_told() {
    let folder = deck();
    fs::write(
        folder.path().join("deck/a.toml"),
        "[[why]]\nid = \"chain\"\ntopic = \"A-III/1.2.1\"\nask = \"Why so?\"\nlinks = [\"a\", \"b\"]\nbecause = \"So.\"\n\
         sources = [\"practice\"]\nseconds = 9\n",
    )
    .expect("written");
    let figure = |id: &str, ask: &str| format!("figure,{id},A-III/1.1.4,,{ask},,,,,,30 bar,,So.,practice\n");
    let rows = [
        figure("one", "How much?"),
        figure("one", "How little?"),
        figure("two", "how much"),
        figure("three", "Why so"),
        figure("chain", "How many?"),
        figure("Four", "How late?"),
        figure("five", "How soon?").replace("practice", "practise"),
        figure("six", "How old?").replace("A-III/1.1.4", "A-III/9.9.9"),
        ",,,,,,,,,,,,,\n".to_owned(),
        "recall,seven,A-III/1.1.4,,How?,,,,some words,,,,So.,practice\n".to_owned(),
        "figure,eight,A-III/1.1.4,,How far?,a point,,,,,,,So.,practice\n".to_owned(),
        "why,nine,A-III/1.1.4,,How near?,!a,b,,,,,,So.,practice\n".to_owned(),
        "why,ten,A-III/1.1.4,,How wide?,a,b,,,,,,So.,practice,over\n".to_owned(),
    ];
    let sheet = written(&folder, "s.csv", format!("{COLUMNS}\n{}", rows.concat()));
    let (code, out, _) = draft(&folder, &sheet, &[]);
    assert_eq!(code, 1);
    let wanted = [
        "row 3, column B (id)",
        "row 4, column E (question)",
        "row 5, column E (question)",
        "row 6, column A (kind)",
        "row 7, column B (id)",
        "row 8, column N (source)",
        "row 9, column C (topic)",
        "row 11, column I (accepted words)",
        "row 11, column F (point 1)",
        "row 12, column F (point 1)",
        "row 12, column K (value)",
        "row 13, column F (point 1)",
        "row 14, column O (without a heading)",
    ];
    assert_eq!(places(&out), wanted, "{out}");
    assert!(out.contains("did you mean `practice`?"), "{out}");
}

#[test]
fn headings_are_told_before_any_row() {
    let folder = deck();
    for (head, words) in [
        ("kind,id,topic,question,sorce\n", vec!["column E (heading)", "did you mean “source”?"]),
        ("kind,id,topic,question\n", vec!["no column with the heading “source”", "--template"]),
        ("\nkind,id,topic,question,source\n", vec!["row 1", "first row has no headings"]),
    ] {
        let sheet = written(&folder, "s.csv", format!("{head}why,x,y,z,w\n"));
        let (code, out, _) = draft(&folder, &sheet, &[]);
        assert_eq!(code, 1, "{out}");
        assert!(words.iter().all(|word| out.contains(word)), "{out}");
        assert!(!out.contains("row 2"), "{out}");
    }
}

#[test]
fn a_template_is_a_sheet_of_its_own_headings() {
    let folder = deck();
    for name in ["t.csv", "t.xlsx"] {
        let path = folder.path().join(name);
        let template = |path: &Path| {
            let mut command = Command::cargo_bin("bedplate").expect("the program is built");
            command.arg("draft").arg("--template").arg(path);
            told(command)
        };
        let (code, out, err) = template(&path);
        assert_eq!(code, 0, "{err}");
        assert!(out.contains("an example of each kind"), "{out}");
        let sheet = sheets::read(&path).expect("it can be read");
        assert_eq!(sheet.rows.len(), 4, "the headings and an example of each kind");
        let heads: Vec<String> = sheet.rows[0].cells.values().map(|cell| format!("{cell:?}")).collect();
        for heading in [
            "kind",
            "id",
            "topic",
            "heading",
            "question",
            "point 1",
            "point 9",
            "accepted words",
            "accepted words 9",
            "value",
            "within",
            "reason",
            "source",
        ] {
            assert!(heads.contains(&format!("Text({heading:?})")), "{heading} in {heads:?}");
        }
        let fresh = deck();
        let (code, out, err) = draft(&fresh, &path, &[]);
        assert_eq!(code, 0, "{out}{err}");
        assert!(out.contains("3 cards new") && !out.contains("Warning"), "{out}");
        let (code, _, err) = template(&path);
        assert!(code == 2 && err.contains("not written over"), "{err}");
    }
    let mut command = Command::cargo_bin("bedplate").expect("the program is built");
    command.arg("draft").arg("--template").arg(folder.path().join("t.ods"));
    let (code, _, err) = told(command);
    assert!(code == 2 && err.contains(".csv or .xlsx"), "{err}");
}
