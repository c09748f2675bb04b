//! Which room may use which other, and which crates; and what is kept out of a room altogether.

use std::collections::BTreeSet;

use super::{BEDPLATE, is_in};

/// What a room may use: rooms of this crate, and outside crates. Both lists are kept true: what a room does not use
/// does not stand here.
struct Room {
    name: &'static str,
    rooms: &'static [&'static str],
    crates: &'static [&'static str],
}

const ROOMS: &[Room] = &[
    Room { name: "domain", rooms: &[], crates: &["std", "serde", "thiserror", "rand", "rustc_hash", "sha2"] },
    // Spreadsheets: what is untrusted in them is bounded in one place.
    Room {
        name: "sheets",
        rooms: &[],
        crates: &["std", "thiserror", "calamine", "csv", "quick_xml", "rust_xlsxwriter", "zip"],
    },
    Room {
        name: "deck",
        rooms: &["domain", "svg", "sheets"],
        crates: &["std", "serde", "serde_json", "sha2", "thiserror", "toml"],
    },
    Room {
        name: "store",
        rooms: &["domain"],
        crates: &["std", "serde", "serde_json", "sha2", "thiserror", "directories", "uuid"],
    },
    // The bytes of the faces, for the window and for text in drawings: one copy in the binary.
    Room { name: "faces", rooms: &[], crates: &[] },
    // Drawings of decks: what is untrusted in them is bounded and refused in one place, for the check of a deck, which
    // wants the outlines of their parts, and for the window, which wants their dots.
    Room { name: "svg", rooms: &["domain", "faces"], crates: &["std", "thiserror", "sha2"] },
    Room {
        name: "devices",
        rooms: &["present", "faces"],
        crates: &["std", "thiserror", "krilla", "parquet", "ttf_parser", "pulseaudio", "hound", "futures_executor"],
    },
    Room { name: "present", rooms: &["domain"], crates: &["std", "jiff"] },
    Room {
        name: "app",
        rooms: &["present", "devices", "store", "deck", "domain", "svg"],
        crates: &["std", "serde", "serde_json", "thiserror", "rand", "sha2"],
    },
    Room { name: "ui", rooms: &["app", "present", "domain", "faces"], crates: &["std", "eframe"] },
    Room {
        name: "cli",
        rooms: &["app", "present", "devices", "store", "deck", "domain", "sheets", "ui"],
        crates: &["std", "serde", "serde_json", "clap", "annotate_snippets", "jiff"],
    },
];

/// Crates that are called in these places alone, whatever the room may use.
const CALLERS: &[(&str, &[&str])] = &[
    ("fsrs", &["src/domain/memory"]),
    // The trained reader's runtime.
    ("rten", &["src/domain/marking/reader"]),
    ("rten_tensor", &["src/domain/marking/reader"]),
    ("rten_text", &["src/domain/marking/reader"]),
    // Water and steam: what lies outside the tables is bounded in one place.
    ("seuif97", &["src/domain/quantity/steam"]),
    ("rust_stemmers", &["src/domain/marking"]),
    // How near two words are: typed answers, names of units, and "did you mean" of decks.
    ("strsim", &["src/domain/marking", "src/domain/quantity", "src/deck/suggest"]),
    // Texts of decks changed key by key.
    ("toml_edit", &["src/deck/writing", "src/deck/from_sheet"]),
    ("unicode_normalization", &["src/domain/marking", "src/deck/folding"]),
    // Sealed decks: zips and signatures are read and made in one place.
    ("flate2", &["src/deck/sealed/archive"]),
    ("crc32fast", &["src/deck/sealed/archive"]),
    ("minisign", &["src/deck/sealed"]),
    ("ed25519_compact", &["src/deck/sealed/keys"]),
    ("ct_codecs", &["src/deck/sealed"]),
    ("blake2", &["src/deck/sealed/signature"]),
    ("rpassword", &["src/cli/passphrase"]),
    ("rusqlite", &["src/store"]),
    // Quantiles of the interval about alpha.
    ("statrs", &["src/domain/roster/reliability"]),
    // Pictures of decks become dots in two places, where what is untrusted is bounded.
    ("image", &["src/app/jobs/picture"]),
    ("resvg", &["src/svg"]),
];

/// Modules of the standard library that the core does not know.
const OF_THE_SYSTEM: &[&str] = &["fs", "net", "env", "thread", "process", "io", "time::SystemTime", "time::Instant"];

/// Names that stand before `::` and are no crates.
const NO_CRATES: &[&str] = &[
    "u8", "u16", "u32", "u64", "u128", "usize", "i8", "i16", "i32", "i64", "i128", "isize", "f32", "f64", "str",
    "char", "bool", "clippy", "rustfmt",
];

fn room_of(file: &str) -> Option<&'static Room> {
    ROOMS.iter().find(|room| is_in(file, &format!("src/{}", room.name)))
}

#[test]
fn every_room_is_in_the_list() {
    let rooms: BTreeSet<&str> = BEDPLATE.modules[0].children.keys().map(String::as_str).collect();
    assert_eq!(rooms, ROOMS.iter().map(|room| room.name).collect());
}

#[test]
fn imports_point_down_the_list() {
    let mut wrong = BTreeSet::new();
    for (file, path) in BEDPLATE.inside() {
        let (Some(room), Some(used)) = (room_of(file), path.first()) else { continue };
        if room.name != used && !room.rooms.contains(&used.as_str()) {
            wrong.insert(format!("{file}: `{}` may not use `crate::{}`", room.name, path.join("::")));
        }
    }
    for (file, path) in BEDPLATE.outside() {
        let (Some(room), name) = (room_of(file), path[0].as_str()) else { continue };
        let may = match CALLERS.iter().find(|(of, _)| *of == name) {
            Some((_, places)) => places.iter().any(|place| is_in(file, place)),
            None => room.crates.contains(&name) || NO_CRATES.contains(&name),
        };
        if !may {
            wrong.insert(format!("{file}: may not use the crate `{name}`"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn the_lists_hold_no_more_than_is_used() {
    let (inside, outside) = (BEDPLATE.inside(), BEDPLATE.outside());
    let mut unused = Vec::new();
    for room in ROOMS {
        let is_here = |file: &str| room_of(file).is_some_and(|of| of.name == room.name);
        let rooms =
            room.rooms.iter().filter(|name| !inside.iter().any(|(file, path)| is_here(file) && path[..1] == [**name]));
        let crates =
            room.crates.iter().filter(|name| !outside.iter().any(|(file, path)| is_here(file) && path[0] == **name));
        unused.extend(rooms.chain(crates).map(|name| format!("`{}` does not use `{name}`", room.name)));
    }
    for (name, places) in CALLERS {
        for place in *places {
            if !outside.iter().any(|(file, path)| path[0] == *name && is_in(file, place)) {
                unused.push(format!("{place} does not call `{name}`"));
            }
        }
    }
    assert!(unused.is_empty(), "{unused:#?}");
}

#[test]
fn the_core_knows_no_file_clock_thread_or_network() {
    let mut wrong = BTreeSet::new();
    for (file, path) in BEDPLATE.outside() {
        if path[0] != "std" {
            continue;
        }
        let path = path[1..].join("::");
        let is_of = |of: &str| path == of || path.strip_prefix(of).is_some_and(|rest| rest.starts_with("::"));
        let is_core = is_in(file, "src/domain") || is_in(file, "src/present");
        let networks = ["net"];
        if is_core && OF_THE_SYSTEM.iter().any(|of| is_of(of)) || networks.iter().any(|of| is_of(of)) {
            wrong.insert(format!("{file}: std::{path}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn screens_hold_no_rules_and_engines_keep_to_themselves() {
    // The window may use the domain's plain data; engines are `app`'s to call. Inside the domain, engines do not
    // import one another.
    let rules: &[(&str, &[&str])] = &[
        (
            "src/ui",
            &[
                "domain::marking",
                "domain::memory",
                "domain::quantity",
                "app::program::app",
                "app::profile::shelf",
                // All of the sheet but what the window tells of it.
                "app::sheet::after",
                "app::sheet::answer_sheet",
                "app::sheet::desk",
                "app::sheet::kinds",
                "app::sheet::watch",
            ],
        ),
        ("src/domain/marking", &["domain::memory"]),
        ("src/domain/memory", &["domain::marking", "domain::quantity", "domain::plant"]),
        ("src/domain/plant", &["domain::marking", "domain::memory", "domain::quantity"]),
        ("src/domain/quantity", &["domain::marking", "domain::memory"]),
        ("src/domain/piping", &["domain::marking", "domain::memory", "domain::quantity", "domain::plant"]),
    ];
    let mut wrong = BTreeSet::new();
    for (file, path) in BEDPLATE.inside() {
        let path = path.join("::");
        for (_, banned) in rules.iter().filter(|(place, _)| is_in(file, place)) {
            if banned
                .iter()
                .any(|of| path.strip_prefix(of).is_some_and(|rest| rest.is_empty() || rest.starts_with("::")))
            {
                wrong.insert(format!("{file}: {path}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}
