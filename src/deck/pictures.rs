//! Pictures: their paths (inside the deck, there, no link, of a type that can be shown), their bytes, and whether those
//! can be shown.

use std::collections::HashMap;
use std::path::Path;
use std::thread;

use super::check::{Found, Site};
use super::checks;
use super::draft::DeckDraft;
use super::files::{Bytes, Files, Presence};
use super::kinds::Placed;
use super::raster;
use crate::svg;

const TYPES: &[&str] = &["png", "jpg", "jpeg", "svg"];

/// Checks the picture of every card; a card whose picture cannot be shown is not sound.
pub(crate) fn check(deck: &mut DeckDraft, files: Files<'_>) {
    let mut there: HashMap<String, Presence> = HashMap::new();
    let mut looked: HashMap<String, Option<(String, String)>> = HashMap::new();
    let mut left = MOST_LOOKED_OVER;
    for draft in &mut deck.drafts {
        let Some(picture) = &draft.picture else { continue };
        if let Some(found) = fault(picture, files, &mut there) {
            deck.problems.report(found);
            draft.card = None;
        } else if !deck.problems.vouched_for {
            let fault = looked.entry(picture.text.clone()).or_insert_with(|| trouble(files, &picture.text, &mut left));
            if let Some((what, mend)) = fault {
                deck.problems.report(checks::drawing::bad_picture(picture.site, &picture.text, what, mend));
            }
        }
    }
}

/// Pictures of a deck are looked over up to this many bytes together; those behind it are looked at when they are shown.
const MOST_LOOKED_OVER: u64 = 256 * 1024 * 1024;

/// Why a picture cannot be shown, and how to mend it.
fn trouble(files: Files<'_>, path: &str, left: &mut u64) -> Option<(String, String)> {
    if *left == 0 {
        return None;
    }
    let bytes = match read_picture_of(files, path) {
        Ok(bytes) => bytes,
        Err(trouble) => {
            let words = trouble.to_string();
            let (what, mend) = words.split_once("; ").unwrap_or((&words, "see that the file can be read"));
            return Some((what.to_owned(), mend.to_owned()));
        }
    };
    *left = left.saturating_sub(bytes.len() as u64);
    let is_drawing = path.rsplit_once('.').is_some_and(|(_, ending)| ending.eq_ignore_ascii_case("svg"));
    if is_drawing {
        return drawing_fault(bytes).map(|fault| (fault.what, fault.mend));
    }
    raster::look_over(&bytes).err().map(|fault| (fault.what.to_owned(), fault.mend.to_owned()))
}

/// Looks over a drawing that is only shown, on a thread with room for the engine's recursion.
fn drawing_fault(bytes: Vec<u8>) -> Option<svg::Fault> {
    let work = move || svg::look_over(&bytes).err();
    let thread = thread::Builder::new().name("picture".to_owned()).stack_size(svg::STACK).spawn(work).ok()?;
    thread
        .join()
        .unwrap_or_else(|_| Some(svg::Fault { what: "could not be read".to_owned(), mend: "save it again".to_owned() }))
}

/// A picture may be this large, in bytes.
pub const MOST_PICTURE_BYTES: u64 = 8 * 1024 * 1024;

/// Why a picture's bytes could not be had.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PictureTrouble {
    /// No such file, or no ordinary one.
    #[error("is no longer in the deck's folder; put it there again")]
    Missing,
    /// The file or a folder on the way is a link, or the path leaves the deck.
    #[error("is not a file of the deck itself; put the file there in the place of the link")]
    Outside,
    /// More than [`MOST_PICTURE_BYTES`].
    #[error("is a file of more than 8 MB; save it smaller")]
    TooLarge,
    /// The system's words.
    #[error("could not be read: {0}")]
    Unreadable(String),
}

/// Reads a card's picture from its deck's folder. What the deck reader has checked is checked again, since the
/// folder may have changed.
///
/// # Errors
/// Where the file has gone, has become a link, is too large, or the system refuses it.
pub fn read_picture(folder: &Path, picture: &str) -> Result<Vec<u8>, PictureTrouble> {
    read_picture_of(Files::In(folder), picture)
}

/// Reads a card's picture from wherever its deck's files lie, as [`read_picture`] does.
///
/// # Errors
/// Those of [`read_picture`].
pub(crate) fn read_picture_of(files: Files<'_>, picture: &str) -> Result<Vec<u8>, PictureTrouble> {
    if leaves(picture).is_some() {
        return Err(PictureTrouble::Outside);
    }
    match files.presence(picture) {
        Presence::Missing => return Err(PictureTrouble::Missing),
        Presence::Link => return Err(PictureTrouble::Outside),
        Presence::File => {}
    }
    match files.read_at(picture, MOST_PICTURE_BYTES) {
        Bytes::Read(bytes) => Ok(bytes),
        Bytes::TooLarge => Err(PictureTrouble::TooLarge),
        Bytes::Unreadable(why) => Err(PictureTrouble::Unreadable(why)),
    }
}

fn fault(picture: &Placed, files: Files<'_>, there: &mut HashMap<String, Presence>) -> Option<Found> {
    path_fault(picture, files, there, TYPES, checks::drawing::picture_type)
}

/// What is wrong with the path of a picture, or of a drawing: with the types that it may be of, and how another type
/// is told. `there` keeps what has been looked for.
pub(crate) fn path_fault(
    picture: &Placed,
    files: Files<'_>,
    there: &mut HashMap<String, Presence>,
    types: &[&str],
    other_type: fn(Site, &str) -> Found,
) -> Option<Found> {
    let (path, site) = (picture.text.as_str(), picture.site);
    if let Some(why) = leaves(path) {
        return Some(checks::drawing::picture_outside(site, path, why));
    }
    let name = path.rsplit('/').next().unwrap_or_default();
    let ending = name.rsplit_once('.').map(|(_, ending)| ending.to_ascii_lowercase());
    if !ending.is_some_and(|ending| types.contains(&ending.as_str())) {
        return Some(other_type(site, path));
    }
    match *there.entry(path.to_owned()).or_insert_with(|| files.presence(path)) {
        Presence::File => None,
        Presence::Link => Some(checks::file::symbolic_link(site, path)),
        Presence::Missing => Some(checks::drawing::picture_missing(site, path)),
    }
}

/// Why a path does not stay inside the deck, whatever the system that reads it.
fn leaves(path: &str) -> Option<&'static str> {
    if path.starts_with('/') {
        Some("begins at the top of the disk")
    } else if path.contains('\\') {
        Some("has a backslash; write / between its parts")
    } else if path.contains(':') {
        Some("has a colon, as drive letters and web addresses have")
    } else if path.split('/').any(|part| part == "..") {
        Some("leaves the deck's folder")
    } else {
        None
    }
}
