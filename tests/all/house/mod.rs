//! The house rules, read from the sources: who may use what, that no files go round in a circle, how long a file may be,
//! where colours and sizes may stand, that nothing outside of their files names a kind of card,
//! and that every file says what it is.

mod circles;
mod kinds;
mod rooms;
mod source;
mod uses;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use source::Crate;

/// Longest allowed file, in lines.
const FILE_LINES: usize = 600;

/// The text of every source, by its path from the root of the project.
static SOURCES: LazyLock<BTreeMap<String, String>> = LazyLock::new(|| {
    let mut files = Vec::new();
    rust_files(&root().join("src"), &mut files);
    assert!(files.len() > 20, "the sources are where this test looks");
    let named = files.into_iter().map(|path| {
        let text = fs::read_to_string(&path).expect("a source file is readable UTF-8");
        let name = path.strip_prefix(root()).expect("under the root").to_string_lossy().replace('\\', "/");
        (name, text)
    });
    named.collect()
});

/// The root of the domain, which is a crate of its own.
const DOMAIN: &str = "src/domain/crate.rs";

/// The program that the sources make: both crates as one, since the program shows the domain as a room of its own.
static BEDPLATE: LazyLock<Crate> = LazyLock::new(|| {
    let mut sources = SOURCES.clone();
    let shown = "pub use bedplate_domain::domain;";
    let root = sources.get_mut("src/lib.rs").expect("the library has a root");
    assert!(root.contains(shown), "src/lib.rs shows the domain by `{shown}`");
    *root = root.replace(shown, "pub mod domain;");
    sources.remove(DOMAIN);
    Crate::read(&sources)
});

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn rust_files(folder: &Path, files: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("a folder of sources is readable") {
        let path = entry.expect("an entry is readable").path();
        if path.is_dir() {
            rust_files(&path, files);
        } else if path.extension().is_some_and(|e| e == "rs") {
            files.push(path);
        }
    }
}

/// Whether a file is that place, or lies in that folder.
fn is_in(file: &str, place: &str) -> bool {
    file.strip_prefix(place).is_some_and(|rest| rest.is_empty() || rest == ".rs" || rest.starts_with('/'))
}

/// The part of a file that is compiled into the program (what comes before its unit tests), without comments.
fn code(text: &str) -> String {
    let body = text.split("cfg(test)]").next().unwrap_or_default();
    body.lines().map(|line| line.split("//").next().unwrap_or_default()).collect::<Vec<_>>().join("\n")
}

#[test]
fn files_are_short_and_say_what_they_are() {
    let mut wrong = Vec::new();
    for (file, text) in &*SOURCES {
        let lines = text.lines().count();
        if lines > FILE_LINES {
            wrong.push(format!("{file}: {lines} lines, at most {FILE_LINES}"));
        }
        if !text.starts_with("//!") {
            wrong.push(format!("{file}: does not open with `//!`"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_file_is_part_of_the_crate() {
    let known: Vec<&str> =
        BEDPLATE.modules.iter().map(|module| module.file.as_str()).chain(["src/main.rs", DOMAIN]).collect();
    // Below a `mod.rs` that is all for tests every file is.
    let for_tests: Vec<&str> = SOURCES
        .iter()
        .filter(|(_, text)| text.contains("#![cfg(test)]"))
        .filter_map(|(file, _)| file.strip_suffix("mod.rs"))
        .collect();
    let is_known = |file: &str| known.contains(&file) || for_tests.iter().any(|folder| file.starts_with(folder));
    let left_over: Vec<&String> = SOURCES.keys().filter(|file| !is_known(file)).collect();
    assert!(left_over.is_empty(), "no `mod` leads to {left_over:#?}");
}

#[test]
fn colours_and_sizes_stand_in_theme_and_kit_alone() {
    let banned = [
        "Color32::from_",
        "Color32::WHITE",
        "Color32::BLACK",
        "FontId::new",
        "FontId::proportional",
        "FontId::monospace",
        "RichText::size",
        ".size(",
    ];
    let mut wrong = Vec::new();
    for (file, text) in &*SOURCES {
        let inside = is_in(file, "src/ui/theme") || is_in(file, "src/ui/kit");
        if is_in(file, "src/ui") && !inside {
            for (n, line) in code(text).lines().enumerate() {
                let raw_colour =
                    banned.iter().any(|b| line.contains(b) && (*b != ".size(" || line.contains("RichText")));
                let raw_space = line
                    .split("add_space(")
                    .nth(1)
                    .is_some_and(|rest| rest.trim_start().starts_with(|c: char| c.is_ascii_digit()));
                if raw_colour || raw_space {
                    wrong.push(format!("{file}:{}: {}", n + 1, line.trim()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "a colour, size or spacing number outside ui/theme and ui/kit:\n{}", wrong.join("\n"));
}
