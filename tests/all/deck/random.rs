//! Decks broken at random: whatever stands in the files, reading ends without a panic and every problem has a
//! place inside its file.

use std::fs;
use std::path::Path;

use bedplate::cli::check;
use bedplate::deck::{Reading, read_deck};
use proptest::prelude::*;

fn sound_deck() -> Vec<(String, Vec<u8>)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/decks/sound");
    let read = |name: &str| (name.to_owned(), fs::read(root.join(name)).expect("readable"));
    vec![read("deck.toml"), read("cards.toml"), read("cards/more.toml")]
}

fn read(files: &[(String, Vec<u8>)]) -> Reading {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, bytes) in files {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().expect("inside")).expect("a folder");
        fs::write(path, bytes).expect("written");
    }
    read_deck(folder.path())
}

fn all_is_well(reading: &Reading) {
    for problem in &reading.problems {
        let text = reading.texts.iter().find(|text| text.name == problem.file).expect("the file was read");
        assert!(text.text.get(problem.span.clone()).is_some(), "{problem:?}");
        let lines: Vec<&str> = text.text.split('\n').collect();
        assert!((1..=lines.len()).contains(&problem.line), "{problem:?}");
        assert!((1..=lines[problem.line - 1].chars().count() + 1).contains(&problem.column), "{problem:?}");
        assert!(!problem.message.is_empty() && !problem.mend.is_empty());
    }
    for printed in [check::text(reading, false), check::sentences(reading)] {
        assert!(printed.chars().all(|c| c == '\n' || !c.is_control()), "{printed:?}");
    }
    let json: serde_json::Value = serde_json::from_str(&check::json_text(reading)).expect("JSON");
    assert_eq!(json["problems"].as_array().map(Vec::len), Some(reading.problems.len()));
}

/// Pieces that upset readers of TOML and of decks.
const UPSETTING: &[&str] = &[
    "\"",
    "'",
    "\"\"\"",
    "'''",
    "[",
    "]",
    "[[",
    "]]",
    "{",
    "}",
    "=",
    ",",
    ".",
    "#",
    "\n",
    "\r\n",
    "\\",
    "\\u",
    "\0",
    "\u{7f}",
    "\u{202E}",
    "\u{200B}",
    "\u{FEFF}",
    "“",
    "”",
    "°",
    "é",
    "1e999",
    "-",
    "true",
    "[[recall]]",
    "[recall]",
    "[source]",
    "[source.x.y]",
    "id = 1",
    "ask = []",
    "points = [[{}]]",
    "probes = {}",
    "value = \"1 m/\"",
    "within = \"% %\"",
    "links = [[]]",
    "2020-01-01",
    "inf",
    "nan",
    "[[figure]]\nvalue=\"9e99999 bar\"",
    "picture = \"\\u0000\"",
    "weight = 99999999999999999999",
    "a.b.c.d = 1",
    "[[recall.points]]",
    "samples = [{ text = \"1\", says = [1], order = 2 }, { said = [1], denies = [9] }]",
    "[[figure.samples]]\ntext = \"30\"\nslip = \"unit\"\nseconds = nan",
    "[[why.samples]]\nlinks = [1, [2]]\noutcome = \"missed\"",
    "\t",
];

proptest! {
    #![proptest_config(ProptestConfig { cases: 250, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_broken_deck_is_read_without_a_panic(
        changes in prop::collection::vec((0_usize..3, any::<prop::sample::Index>(), 0_usize..40, prop::sample::select(UPSETTING)), 1..8),
    ) {
        let mut files = sound_deck();
        for (file, at, cut, put) in changes {
            let bytes = &mut files[file].1;
            let at = at.index(bytes.len() + 1);
            let end = (at + cut).min(bytes.len());
            bytes.splice(at..end, put.bytes());
        }
        all_is_well(&read(&files));
    }

    #[test]
    fn any_bytes_are_read_without_a_panic(head in prop::collection::vec(any::<u8>(), 0..300), cards in prop::collection::vec(any::<u8>(), 0..300)) {
        all_is_well(&read(&[("deck.toml".to_owned(), head), ("cards.toml".to_owned(), cards)]));
    }

    #[test]
    fn any_pieces_are_read_without_a_panic(pieces in prop::collection::vec(prop::sample::select(UPSETTING), 0..60)) {
        let mut files = sound_deck();
        files[1].1 = pieces.concat().into_bytes();
        all_is_well(&read(&files));
    }
}
