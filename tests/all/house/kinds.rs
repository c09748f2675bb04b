//! A kind of card has one file or folder in each room, and each room asks the kind at one place. Everywhere else a kind that
//! is named is a place which a new kind would have to be added to, and which the compiler may not lead to: there are none.

use super::source::listed_kinds;
use super::{SOURCES, code};

/// What names a kind by a variant.
const TYPES: [&str; 4] = ["Body", "Kind", "Detail", "Stage"];

/// Whether a line names one of these types with a variant that is called after a kind.
fn names_a_kind(line: &str, kinds: &[String]) -> bool {
    let is_word = |c: char| c.is_alphanumeric() || c == '_';
    TYPES.iter().any(|name| {
        line.match_indices(name).any(|(at, _)| {
            let before = line[..at].chars().next_back();
            let after = line[at + name.len()..].strip_prefix("::");
            !before.is_some_and(is_word) && after.is_some_and(|rest| kinds.iter().any(|kind| rest.starts_with(kind)))
        })
    })
}

fn kinds() -> Vec<String> {
    listed_kinds(&SOURCES).into_iter().map(|kind| kind.name).collect()
}

#[test]
fn no_place_outside_of_the_kinds_names_one() {
    let kinds = kinds();
    assert!(kinds.len() >= 7 && kinds.iter().any(|kind| kind == "Lineup"), "the list is read: {kinds:?}");
    let mut found = Vec::new();
    for (file, text) in SOURCES.iter().filter(|(file, _)| !file.contains("/kinds/")) {
        for (n, line) in code(text).lines().enumerate().filter(|(_, line)| names_a_kind(line, &kinds)) {
            found.push(format!("{file}:{}: {}", n + 1, line.trim()));
        }
    }
    let told = found.join("\n");
    assert!(told.is_empty(), "ask `CardKind`, or the room's own trait of kinds, instead:\n{told}");
}

#[test]
fn the_finder_sees_what_it_should() {
    for (line, is) in [
        ("match body { Body::Recall(_) => 1 }", true),
        ("if card.kind() == Kind::Point {", true),
        ("let Detail::Why(told) = detail else { return };", true),
        ("Stage::WorkingShown", true),
        ("SomeBody::Recall", false),
        ("NodeKind::Pointer", false),
        ("Body::from(recall)", false),
    ] {
        assert_eq!(names_a_kind(line, &kinds()), is, "{line}");
    }
}
