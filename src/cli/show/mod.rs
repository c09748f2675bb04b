//! `bedplate show FILE`: what a file from somebody else holds, without taking it in.
//!
//! One file for each kind of file; [`KINDS`] lists them, but for a
//! profile's file, which `merge` shows. Exit codes: 0 shown, 1 it is not as it should be, 2 it cannot be
//! read, or is of no kind that is known.

mod class_files;
mod deck;
mod shown;

use std::path::Path;
use std::process::ExitCode;

use shown::Shown;

use super::merge;
use super::out::{self, cannot, told};
use super::say::printable;
use crate::app::class::envelope::MOST_ASSIGNMENT;
use crate::app::publish::file;
use crate::store::bring::is_profile_file;

/// A kind of file.
struct FileKind {
    /// Whether these bytes mean to be one.
    is: fn(&[u8]) -> bool,
    /// What one holds.
    show: fn(&[u8]) -> Shown,
}

const KINDS: &[FileKind] = &[
    FileKind { is: deck::is, show: deck::show },
    FileKind { is: class_files::is_hand_in, show: class_files::show_hand_in },
    FileKind { is: class_files::is_assignment, show: class_files::show_assignment },
];

/// Shows a file.
pub(super) fn run(path: &Path, is_json: bool) -> ExitCode {
    // One of these may be long; it is read line by line.
    if is_profile_file(path) {
        return merge::show(path, is_json);
    }
    let bytes = match file::read_at_most(path, MOST_ASSIGNMENT as u64) {
        Ok(bytes) => bytes,
        Err(refusal) => return cannot(refusal),
    };
    let Some(kind) = KINDS.iter().find(|kind| (kind.is)(&bytes)) else {
        return cannot(format!("{} is no file that Bedplate makes: it has nothing to show of it", path.display()));
    };
    let Shown { rows, json, refused } = (kind.show)(&bytes);
    let text = match is_json {
        true => format!("{json:#}\n"),
        false => rows.iter().map(|(label, value)| format!("{label:<12}{}\n", printable(value))).collect(),
    };
    if let Err(code) = out::all(text.as_bytes()) {
        return code;
    }
    match refused {
        None => ExitCode::SUCCESS,
        Some(refusal) => {
            told(&format!("{} ({})", refusal.text, refusal.code));
            ExitCode::from(if refusal.is_unreadable { 2 } else { 1 })
        }
    }
}
