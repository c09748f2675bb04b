//! Opening a text at a line in an editor of the system, by the editor's own arguments.

use std::env;
use std::ffi::OsString;
use std::path::Path;
use std::process::{Command, Stdio};

use super::viewer;

/// What came of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edited {
    /// The editor opens the file at the line.
    AtLine,
    /// The system opens the file; the line is to be gone to by hand.
    File,
    /// There is nothing to open it with.
    Nothing,
}

/// How an editor is told of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Told {
    /// `FILE:LINE` after these.
    Behind(&'static [&'static str]),
    /// These with the line, then the file.
    Before(&'static str),
    /// The line joined to these, then the file.
    Joined(&'static str),
}

/// Editors with a window of their own, by the name of their program.
const EDITORS: &[(&str, Told)] = &[
    ("code", Told::Behind(&["--goto"])),
    ("codium", Told::Behind(&["--goto"])),
    ("zed", Told::Behind(&[])),
    ("subl", Told::Behind(&[])),
    ("kate", Told::Before("--line")),
    ("kwrite", Told::Before("--line")),
    ("gedit", Told::Joined("+")),
    ("gnome-text-editor", Told::Joined("+")),
    ("xed", Told::Joined("+")),
    ("pluma", Told::Joined("+")),
    ("mousepad", Told::Joined("--line=")),
    ("geany", Told::Before("--line")),
    ("gvim", Told::Joined("+")),
    ("notepad++", Told::Joined("-n")),
    ("mate", Told::Before("--line")),
];

fn arguments(told: Told, file: &Path, line: usize) -> Vec<OsString> {
    let path = file.as_os_str().to_owned();
    match told {
        Told::Behind(first) => {
            let mut place = path;
            place.push(format!(":{line}"));
            first.iter().map(OsString::from).chain([place]).collect()
        }
        Told::Before(key) => vec![key.into(), line.to_string().into(), path],
        Told::Joined(key) => vec![format!("{key}{line}").into(), path],
    }
}

/// The editors in the order in which they are tried: first the one that the person has named to the system.
fn in_order(named: Option<&str>) -> Vec<(&'static str, Told)> {
    let name = |named: &str| Path::new(named).file_stem().map(|name| name.to_string_lossy().into_owned());
    let named = named.and_then(|named| name(named.split_whitespace().next()?));
    let mut editors = EDITORS.to_vec();
    editors.sort_by_key(|(editor, _)| named.as_deref() != Some(*editor));
    editors
}

/// Opens a text file at a line (from 1); where no editor on the list is there, the system opens it as it opens others.
pub fn edit(file: &Path, line: usize) -> Edited {
    let named = ["VISUAL", "EDITOR"].iter().find_map(|name| env::var(name).ok());
    for (editor, told) in in_order(named.as_deref()) {
        let started = Command::new(editor)
            .args(arguments(told, file, line))
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn();
        if let Ok(mut child) = started {
            // It ends by itself; somebody has to take note of it.
            std::thread::spawn(move || child.wait());
            return Edited::AtLine;
        }
    }
    if viewer::open(file) { Edited::File } else { Edited::Nothing }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_editor_is_told_of_the_line_in_its_own_way() {
        let of = |told| -> Vec<String> {
            let all = arguments(told, Path::new("/decks/own plant/cards.toml"), 41);
            all.into_iter().map(|one| one.to_string_lossy().into_owned()).collect()
        };
        assert_eq!(of(Told::Behind(&["--goto"])), ["--goto", "/decks/own plant/cards.toml:41"]);
        assert_eq!(of(Told::Before("--line")), ["--line", "41", "/decks/own plant/cards.toml"]);
        assert_eq!(of(Told::Joined("+")), ["+41", "/decks/own plant/cards.toml"]);
    }

    #[test]
    fn the_one_that_the_person_has_named_comes_first() {
        assert_eq!(in_order(Some("/usr/bin/kate --block"))[0].0, "kate");
        assert_eq!(in_order(Some("ed"))[0].0, EDITORS[0].0);
        assert_eq!(in_order(None).len(), EDITORS.len());
    }
}
