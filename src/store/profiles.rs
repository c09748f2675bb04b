//! The learners of one computer: a folder each, with a small `profile.json` beside the profile's file so that
//! listing them opens no database.

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::error::StoreError;
use super::{files, home, rights};
use crate::domain::day::Instant;

/// One learner of this computer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ProfileInfo {
    /// The folder's name under `profiles`.
    pub folder: String,
    /// The learner's name as shown.
    pub learner: String,
    /// When it was last opened; `None` where it never was.
    pub last_used: Option<Instant>,
}

/// What `profile.json` holds.
#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct Card {
    learner: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    last_used_ms: Option<i64>,
}

/// All profiles, the one used last first.
///
/// # Errors
/// Where the folder is there and cannot be read.
pub fn list(home: &Path) -> Result<Vec<ProfileInfo>, StoreError> {
    let dir = home::profiles_dir(home);
    let fail = |e: std::io::Error| StoreError::from_io("list the profiles", &dir, &e);
    let entries = match fs::read_dir(&dir) {
        Err(e) if e.kind() == ErrorKind::NotFound => return Ok(Vec::new()),
        other => other.map_err(fail)?,
    };
    let mut all = Vec::new();
    for entry in entries {
        let entry = entry.map_err(fail)?;
        // A name that is not Unicode is none of ours.
        let Ok(folder) = entry.file_name().into_string() else { continue };
        let path = entry.path();
        if card_path(&path).is_file() || files::profile(&path).exists() {
            let card = read(&path).unwrap_or_default();
            let learner = if card.learner.is_empty() { folder.clone() } else { card.learner };
            all.push(ProfileInfo { folder, learner, last_used: card.last_used_ms.map(Instant) });
        }
    }
    all.sort_by(|a, b| b.last_used.cmp(&a.last_used).then_with(|| a.folder.cmp(&b.folder)));
    Ok(all)
}

/// Makes a folder for a new learner. Its file is made when it is first opened.
///
/// # Errors
/// Where the name is blank or the folder cannot be made.
pub fn create(home: &Path, learner: &str) -> Result<ProfileInfo, StoreError> {
    let learner = learner.trim();
    if learner.is_empty() {
        let why = "a learner needs a name".to_owned();
        return Err(StoreError::Refused { what: "the new profile".to_owned(), why });
    }
    make(home, learner, learner)
}

/// Makes a folder for a new learner who has not said a name: it is named after `called`, such as what the computer calls
/// its user.
///
/// # Errors
/// Where the folder cannot be made.
pub fn create_unnamed(home: &Path, called: &str) -> Result<ProfileInfo, StoreError> {
    make(home, called, "")
}

fn make(home: &Path, called: &str, learner: &str) -> Result<ProfileInfo, StoreError> {
    let dir = home::profiles_dir(home);
    let fail = |e: std::io::Error| StoreError::from_io("make a new profile", &dir, &e);
    rights::create_dir(&dir).map_err(fail)?;
    let base = folder_name(called);
    for number in 1u32.. {
        let folder = if number == 1 { base.clone() } else { format!("{base}-{number}") };
        let path = dir.join(&folder);
        match fs::create_dir(&path) {
            Err(e) if e.kind() == ErrorKind::AlreadyExists => continue,
            other => other.map_err(fail)?,
        }
        write(&path, &Card { learner: learner.to_owned(), last_used_ms: None })
            .map_err(|e| StoreError::from_io("make a new profile", &path, &e))?;
        return Ok(ProfileInfo { folder, learner: learner.to_owned(), last_used: None });
    }
    Err(StoreError::Refused { what: "the new profile".to_owned(), why: "there are too many of that name".to_owned() })
}

/// Remembers which profile was used last on this computer.
///
/// # Errors
/// Where the home folder cannot be written.
pub fn remember_last(home: &Path, folder: &str) -> Result<(), StoreError> {
    let path = last_path(home);
    let written = fs::create_dir_all(home).and_then(|()| files::write_whole(&path, folder));
    written.map_err(|e| StoreError::from_io("remember the profile", &path, &e))
}

/// The profile used last, where it is still there.
pub fn last(home: &Path) -> Option<String> {
    let folder = fs::read_to_string(last_path(home)).ok()?.trim().to_owned();
    home::profile_dir(home, &folder).filter(|dir| dir.is_dir()).map(|_| folder)
}

/// A folder name for a learner: small letters, digits and hyphens, in any script, never empty, never one that a
/// system keeps for itself.
pub fn folder_name(learner: &str) -> String {
    let mut name = String::new();
    for c in learner.chars().flat_map(char::to_lowercase) {
        match c.is_alphanumeric() {
            // Systems allow 255 bytes for a name; leave room for a number after it.
            true if name.len() < 100 => name.push(c),
            true => break,
            false if !name.is_empty() && !name.ends_with('-') => name.push('-'),
            false => {}
        }
    }
    let name = name.trim_end_matches('-');
    let kept_by_windows = matches!(name, "con" | "prn" | "aux" | "nul")
        || ["com", "lpt"].iter().any(|port| name.strip_prefix(port).is_some_and(|n| n.chars().count() == 1));
    match name {
        "" => "learner".to_owned(),
        name if kept_by_windows => format!("learner-{name}"),
        name => name.to_owned(),
    }
}

/// The learner's name on the profile's card; empty where there is none.
pub(super) fn learner(dir: &Path) -> String {
    read(dir).unwrap_or_default().learner
}

/// Writes the card anew with what is known now. The card only serves the list, so that failing is no fault.
pub(super) fn note(dir: &Path, learner: Option<&str>, used: Option<Instant>) {
    let mut card = read(dir).unwrap_or_default();
    if let Some(learner) = learner.filter(|name| !name.trim().is_empty()) {
        card.learner = learner.to_owned();
    }
    if let Some(used) = used {
        card.last_used_ms = Some(used.0);
    }
    let _ = write(dir, &card);
}

fn card_path(dir: &Path) -> PathBuf {
    dir.join("profile.json")
}

fn last_path(home: &Path) -> PathBuf {
    home.join("last-profile")
}

fn read(dir: &Path) -> Option<Card> {
    serde_json::from_str(&fs::read_to_string(card_path(dir)).ok()?).ok()
}

fn write(dir: &Path, card: &Card) -> std::io::Result<()> {
    files::write_whole(&card_path(dir), &serde_json::to_string_pretty(card)?)
}
