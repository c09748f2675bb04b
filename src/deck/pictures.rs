//! Picture paths: inside the deck, there, no link, and of a type that can be shown.

use std::collections::HashMap;
use std::fs;
use std::path::Path;

use super::checks::{picture_missing, picture_outside, picture_type, symbolic_link};
use super::kinds::Placed;
use super::problem::Found;
use super::reading::Draught;

const TYPES: &[&str] = &["png", "jpg", "jpeg", "svg"];

/// Checks the picture of every card; a card whose picture cannot be shown is not sound.
pub(crate) fn check(draught: &mut Draught, folder: &Path) {
    let mut there: HashMap<String, Presence> = HashMap::new();
    for draft in &mut draught.drafts {
        let Some(picture) = &draft.picture else { continue };
        if let Some(found) = fault(picture, folder, &mut there) {
            draught.problems.report(found);
            draft.card = None;
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Presence {
    File,
    Link,
    Missing,
}

fn fault(picture: &Placed, folder: &Path, there: &mut HashMap<String, Presence>) -> Option<Found> {
    let (path, site) = (picture.text.as_str(), picture.site);
    if let Some(why) = leaves(path) {
        return Some(picture_outside::found(site, path, why));
    }
    let name = path.rsplit('/').next().unwrap_or_default();
    let ending = name.rsplit_once('.').map(|(_, ending)| ending.to_ascii_lowercase());
    if !ending.is_some_and(|ending| TYPES.contains(&ending.as_str())) {
        return Some(picture_type::found(site, path));
    }
    match *there.entry(path.to_owned()).or_insert_with(|| presence(path, folder)) {
        Presence::File => None,
        Presence::Link => Some(symbolic_link::found(site, path)),
        Presence::Missing => Some(picture_missing::found(site, path)),
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

fn presence(path: &str, folder: &Path) -> Presence {
    let mut at = folder.to_path_buf();
    for part in path.split('/') {
        at.push(part);
        match fs::symlink_metadata(&at) {
            Ok(meta) if meta.is_symlink() => return Presence::Link,
            Ok(_) => {}
            Err(_) => return Presence::Missing,
        }
    }
    if fs::metadata(&at).is_ok_and(|meta| meta.is_file()) { Presence::File } else { Presence::Missing }
}
