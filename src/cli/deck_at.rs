//! A deck named at the command line: its folder, the `deck.toml` in it, or a sealed deck.

use std::path::{Path, PathBuf};

use crate::app::publish::file;
use crate::deck::sealed::{Refusal, SealedDeck, Signed, open};
use crate::deck::{Reading, read_deck_by, read_deck_to_ask, read_sealed_by, read_sealed_to_ask};
use crate::domain::marking::Marker;

/// Reads the deck at a path and finds all that is wrong with it; its samples are marked by `marker`.
pub(super) fn read_by(path: &Path, marker: Marker<'_>) -> Reading {
    match sealed(path) {
        None => read_deck_by(&folder_of(path), marker),
        Some(Ok(sealed)) => read_sealed_by(&sealed.files, marker),
        Some(Err(refusal)) => nothing(path, &refusal),
    }
}

/// Reads the deck at a path to ask its cards.
pub(super) fn read_to_ask(path: &Path) -> Reading {
    match sealed(path) {
        None => read_deck_to_ask(path),
        Some(Ok(sealed)) => read_sealed_to_ask(&sealed.files),
        Some(Err(refusal)) => nothing(path, &refusal),
    }
}

fn nothing(path: &Path, refusal: &Refusal) -> Reading {
    let message =
        format!("`{}` is no sealed deck that can be used: {} ({})", path.display(), refusal.text, refusal.code);
    Reading::nothing(&message, "name the folder that holds the deck's deck.toml, or have the file sent again")
}

/// The sealed deck at a path; none where there is no file, or it is a text of a deck.
fn sealed(path: &Path) -> Option<Result<SealedDeck, Refusal>> {
    if !path.is_file() || path.extension().is_some_and(|ending| ending == "toml") {
        return None;
    }
    let read = file::read(path).and_then(|bytes| open(&bytes));
    Some(read.and_then(|sealed| match sealed.signed {
        Signed::Badly(refusal) => Err(refusal),
        _ => Ok(sealed),
    }))
}

/// The folder of a deck, where the file `deck.toml` in it was named.
pub(super) fn folder_of(path: &Path) -> PathBuf {
    if path.file_name().is_some_and(|name| name == "deck.toml") && path.is_file() {
        match path.parent() {
            Some(parent) if parent.as_os_str().is_empty() => PathBuf::from("."),
            Some(parent) => parent.to_path_buf(),
            None => path.to_path_buf(),
        }
    } else {
        path.to_path_buf()
    }
}
