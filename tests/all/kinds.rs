//! A kind of card has one file or folder in each room, and each room asks the kind at one place. Everywhere else a
//! kind that is named is a place which a new kind would have to be added to, and which the compiler may not lead to:
//! these are counted here, and may only become fewer.

use std::fs;
use std::path::{Path, PathBuf};

use bedplate::domain::card::Kind;

/// Lines outside of every `kinds` folder that name a kind by a variant of `Body`, `Kind` or `Detail`.
const BODIES: usize = 0;

/// The same by a variant of the view's `Stage`, which is asked, marked or a remedy for every kind.
const STAGES: usize = 0;

fn sources(folder: &Path, files: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("a folder of sources can be read").flatten() {
        let path = entry.path();
        if path.is_dir() {
            if path.file_name().is_none_or(|name| name != "kinds") {
                sources(&path, files);
            }
        } else if path.extension().is_some_and(|e| e == "rs") {
            files.push(path);
        }
    }
}

/// Whether a line names one of these types with a variant that is called after a kind.
fn names_a_kind(line: &str, types: &[&str]) -> bool {
    let is_word = |c: char| c.is_alphanumeric() || c == '_';
    types.iter().any(|name| {
        line.match_indices(name).any(|(at, _)| {
            let before = line[..at].chars().next_back();
            let after = line[at + name.len()..].strip_prefix("::");
            !before.is_some_and(is_word)
                && after.is_some_and(|rest| Kind::ALL.iter().any(|kind| rest.starts_with(&format!("{kind:?}"))))
        })
    })
}

/// The places that do so in the program itself, as `file:line`.
fn places(types: &[&str]) -> Vec<String> {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let mut files = Vec::new();
    sources(&root.join("src"), &mut files);
    assert!(files.len() > 20, "the sources are where this test looks");
    files.sort();
    let mut found = Vec::new();
    for path in files {
        let text = fs::read_to_string(&path).expect("a source file is readable UTF-8");
        let name = path.strip_prefix(&root).expect("under the root").to_string_lossy().replace('\\', "/");
        let code = text.split("#[cfg(test)]").next().unwrap_or_default();
        for (n, line) in code.lines().enumerate() {
            if names_a_kind(line.split("//").next().unwrap_or_default(), types) {
                found.push(format!("{name}:{}: {}", n + 1, line.trim()));
            }
        }
    }
    found
}

fn hold(types: &[&str], ceiling: usize) {
    let found = places(types);
    let count = found.len();
    assert!(
        count <= ceiling,
        "{count} places outside of `kinds` folders name a kind, at most {ceiling} may: ask `CardKind`, or the room's \
         own list of kinds, instead:\n{}",
        found.join("\n")
    );
    assert!(count >= ceiling, "only {count} places are left: lower the ceiling from {ceiling}");
}

#[test]
fn few_places_name_a_kind_of_card() {
    hold(&["Body", "Kind", "Detail"], BODIES);
}

#[test]
fn few_places_name_a_stage_of_one_kind() {
    hold(&["Stage"], STAGES);
}

#[test]
fn the_counter_sees_what_it_should() {
    for (line, is) in [
        ("match body { Body::Recall(_) => 1 }", true),
        ("if card.kind() == Kind::Point {", true),
        ("SomeBody::Recall", false),
        ("NodeKind::Pointer", false),
        ("Body::from(recall)", false),
    ] {
        assert_eq!(names_a_kind(line, &["Body", "Kind"]), is, "{line}");
    }
}
