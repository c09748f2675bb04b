//! The house rules, read from the sources: who may import what, how long a file may be, where colours and sizes
//! may stand, and that every file says what it is.

use std::fs;
use std::path::{Path, PathBuf};

/// Longest allowed file, in lines.
const FILE_LINES: usize = 600;

/// What a room may use: rooms of this crate, and outside crates.
struct Room {
    name: &'static str,
    rooms: &'static [&'static str],
    crates: &'static [&'static str],
}

const ROOMS: &[Room] = &[
    Room { name: "domain", rooms: &["domain"], crates: &["std", "serde", "thiserror", "rand", "rustc_hash"] },
    Room {
        name: "deck",
        rooms: &["deck", "domain", "svg"],
        crates: &[
            "std",
            "serde",
            "serde_json",
            "thiserror",
            "toml",
            "serde_spanned",
            "strsim",
            "unicode_normalization",
            "unicode_segmentation",
            "sha2",
        ],
    },
    Room {
        name: "store",
        rooms: &["store", "domain"],
        crates: &["std", "serde", "serde_json", "thiserror", "rusqlite", "directories", "uuid", "sha2", "tracing"],
    },
    // The bytes of the faces, for the window and for text in drawings: one copy in the binary.
    Room { name: "faces", rooms: &[], crates: &["std"] },
    // Drawings of decks: what is untrusted in them is bounded and refused in one place, for the check of a deck, which
    // wants the outlines of their parts, and for the window, which wants their dots.
    Room { name: "svg", rooms: &["svg", "domain", "faces"], crates: &["std", "thiserror"] },
    Room {
        name: "devices",
        rooms: &["devices", "present", "faces"],
        crates: &["std", "thiserror", "krilla", "ttf_parser", "pulseaudio", "hound", "futures_executor"],
    },
    Room { name: "present", rooms: &["present", "domain", "deck"], crates: &["std", "serde", "jiff"] },
    Room {
        name: "app",
        rooms: &["app", "present", "devices", "store", "deck", "domain", "svg"],
        crates: &["std", "serde", "serde_json", "thiserror", "rand", "jiff", "sha2"],
    },
    Room {
        name: "ui",
        rooms: &["ui", "app", "present", "domain", "faces"],
        crates: &["std", "egui", "eframe", "egui_extras", "jiff"],
    },
    Room {
        name: "cli",
        rooms: &["cli", "app", "present", "devices", "store", "deck", "domain", "ui"],
        crates: &["std", "serde", "serde_json", "thiserror", "clap", "annotate_snippets", "jiff", "rand"],
    },
];

/// Crates that one room alone may call, with that place.
const ONE_CALLER: &[(&str, &str)] = &[
    ("fsrs", "src/domain/memory"),
    // Water and steam: what lies outside the tables is bounded in one place.
    ("seuif97", "src/domain/quantity/steam.rs"),
    ("rust_stemmers", "src/domain/marking"),
    ("strsim", "src/d"),
    ("unicode_normalization", "src/d"),
    ("unicode_segmentation", "src/d"),
    ("rusqlite", "src/store"),
    // Pictures of decks become dots in two places, where what is untrusted is bounded.
    ("image", "src/app/picture"),
    ("resvg", "src/svg"),
];

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn sources(folder: &Path, files: &mut Vec<PathBuf>) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries.flatten() {
        let path = entry.path();
        if path.is_dir() {
            sources(&path, files);
        } else if path.extension().is_some_and(|e| e == "rs") {
            files.push(path);
        }
    }
}

fn all_sources() -> Vec<(String, String)> {
    let mut files = Vec::new();
    sources(&root().join("src"), &mut files);
    assert!(files.len() > 20, "the sources are where this test looks");
    files.sort();
    files
        .into_iter()
        .map(|path| {
            let text = fs::read_to_string(&path).expect("a source file is readable UTF-8");
            let name = path.strip_prefix(root()).expect("under the root").to_string_lossy().replace('\\', "/");
            (name, text)
        })
        .collect()
}

/// The part of a file that is compiled into the program (what comes before its unit tests), without comments.
fn code(text: &str) -> String {
    let body = text.split("cfg(test)]").next().unwrap_or_default();
    body.lines().map(|line| line.split("//").next().unwrap_or_default()).collect::<Vec<_>>().join("\n")
}

/// First segments of every path used: `use a::b`, `a::b(..)`; `crate::x` gives `crate::x`.
fn paths_used(code: &str) -> Vec<String> {
    let mut found = Vec::new();
    let bytes: Vec<char> = code.chars().collect();
    let is_word = |c: char| c.is_alphanumeric() || c == '_';
    let mut i = 0;
    while i < bytes.len() {
        if is_word(bytes[i]) && (i == 0 || (!is_word(bytes[i - 1]) && bytes[i - 1] != ':' && bytes[i - 1] != '.')) {
            let start = i;
            while i < bytes.len() && is_word(bytes[i]) {
                i += 1;
            }
            let first: String = bytes[start..i].iter().collect();
            if bytes.get(i) == Some(&':') && bytes.get(i + 1) == Some(&':') {
                if first == "crate" {
                    let mut j = i + 2;
                    while j < bytes.len() && is_word(bytes[j]) {
                        j += 1;
                    }
                    let second: String = bytes[i + 2..j].iter().collect();
                    found.push(format!("crate::{second}"));
                } else if first.chars().next().is_some_and(char::is_lowercase) {
                    found.push(first);
                }
            }
        } else {
            i += 1;
        }
    }
    found
}

/// Names that start with a small letter but are no crates.
fn is_no_crate(name: &str, text: &str) -> bool {
    const PRIMITIVES: &[&str] = &[
        "self", "super", "u8", "u16", "u32", "u64", "u128", "usize", "i8", "i16", "i32", "i64", "isize", "f32", "f64",
        "str", "char", "bool", "core", "alloc", "clippy",
    ];
    PRIMITIVES.contains(&name)
        || text.contains(&format!("mod {name};"))
        || text.contains(&format!("mod {name} "))
        || text.lines().any(|l| {
            let l = l.trim();
            // A module brought in by `use crate::room::{self, name}` or `use super::name`, or a list over lines.
            (l.starts_with("use ")
                || l.starts_with("pub use ")
                || l.ends_with(',')
                || l.ends_with('{')
                || l.ends_with("};"))
                && l.split(|c: char| !(c.is_alphanumeric() || c == '_')).any(|w| w == name)
                && !l.contains(&format!("use {name}::"))
        })
}

#[test]
fn imports_point_down_the_list() {
    let mut wrong = Vec::new();
    for (file, text) in all_sources() {
        let room_name = file.trim_start_matches("src/").split(['/', '.']).next().unwrap_or_default().to_owned();
        let Some(room) = ROOMS.iter().find(|r| r.name == room_name) else { continue };
        let code = code(&text);
        for path in paths_used(&code) {
            if let Some(used) = path.strip_prefix("crate::") {
                if !room.rooms.contains(&used) {
                    wrong.push(format!("{file}: `{}` may not use `crate::{used}`", room.name));
                }
            } else if let Some((name, place)) = ONE_CALLER.iter().find(|(c, _)| *c == path) {
                let also = room.crates.contains(name);
                if !file.starts_with(place) && !also {
                    wrong.push(format!("{file}: only {place} may call `{name}`"));
                }
            } else if !room.crates.contains(&path.as_str()) && !is_no_crate(&path, &code) {
                wrong.push(format!("{file}: `{}` may not use the crate `{path}`", room.name));
            }
        }
    }
    wrong.sort();
    wrong.dedup();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_core_knows_no_file_clock_thread_or_network() {
    let forbidden =
        ["std::fs", "std::net", "std::env", "std::thread", "std::process", "SystemTime", "time::Instant", "std::io"];
    let mut wrong = Vec::new();
    for (file, text) in all_sources() {
        let code = code(&text);
        if file.starts_with("src/domain") || file.starts_with("src/present") {
            wrong.extend(forbidden.iter().filter(|f| code.contains(**f)).map(|f| format!("{file}: {f}")));
        }
        if code.contains("std::net") || code.contains("TcpStream") || code.contains("UdpSocket") {
            wrong.push(format!("{file}: network code"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn files_are_short_and_say_what_they_are() {
    let mut wrong = Vec::new();
    for (file, text) in all_sources() {
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
    for (file, text) in all_sources() {
        let inside = file.starts_with("src/ui/theme") || file.starts_with("src/ui/kit");
        if file.starts_with("src/ui/") && !inside {
            let code = code(&text);
            for (n, line) in code.lines().enumerate() {
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

#[test]
fn screens_hold_no_rules_and_engines_keep_to_themselves() {
    // The window may use the domain's plain data; engines are `app`'s to call. Inside the domain, engines do not
    // import one another.
    let rules: &[(&str, &[&str])] = &[
        (
            "src/ui/",
            &["domain::marking", "domain::memory", "domain::quantity", "app::session", "app::state", "app::shelf"],
        ),
        ("src/domain/marking", &["domain::memory"]),
        ("src/domain/memory", &["domain::marking", "domain::quantity", "domain::plant"]),
        ("src/domain/plant", &["domain::marking", "domain::memory", "domain::quantity"]),
        ("src/domain/quantity", &["domain::marking", "domain::memory"]),
        ("src/domain/piping", &["domain::marking", "domain::memory", "domain::quantity", "domain::plant"]),
    ];
    let mut wrong = Vec::new();
    for (file, text) in all_sources() {
        let code = code(&text);
        for (place, banned) in rules {
            if file.starts_with(place) {
                wrong.extend(banned.iter().filter(|b| code.contains(*b)).map(|b| format!("{file}: {b}")));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_reader_of_paths_sees_what_it_should() {
    let used = paths_used("use crate::store::Store; fn f() { rusqlite::open(); x.y(); Some::<u8>(1); }");
    assert_eq!(used, ["crate::store", "rusqlite"]);
}
