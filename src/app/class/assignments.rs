//! The assignments that this home holds: one small file for each, without the decks, which lie with the others.

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use crate::app::publish::file::put;
use crate::domain::roster::Assignment;

/// The folder of assignments under the home folder.
const FOLDER: &str = "assignments";

/// An assignment cannot be kept or found.
#[derive(Debug, thiserror::Error)]
pub enum AssignmentTrouble {
    /// The disk or the rights to it.
    #[error("{} could not be read or written ({why}). Check the disk and its rights, then try again", path.display())]
    Disk {
        /// The file or folder.
        path: PathBuf,
        /// The system's words.
        why: String,
    },
    /// None of that id.
    #[error("this home holds no assignment `{id}`; {known}. Take one in with `bedplate install FILE`")]
    Unknown {
        /// The id asked for.
        id: String,
        /// Those that there are, in words.
        known: String,
    },
    /// None at all, or several.
    #[error("{0}")]
    WhichOne(String),
}

/// All assignments of a home, the one made last first. Files that make no sense are left out.
///
/// # Errors
/// Where the folder is there and cannot be read.
pub fn list(home: &Path) -> Result<Vec<Assignment>, AssignmentTrouble> {
    let folder = home.join(FOLDER);
    let entries = match fs::read_dir(&folder) {
        Err(e) if e.kind() == ErrorKind::NotFound => return Ok(Vec::new()),
        other => other.map_err(|e| disk(&folder, &e))?,
    };
    let mut all: Vec<Assignment> = entries
        .flatten()
        .filter(|entry| entry.path().extension().is_some_and(|ending| ending == "json"))
        .filter_map(|entry| serde_json::from_slice(&fs::read(entry.path()).ok()?).ok())
        .collect();
    all.sort_by(|a, b| (b.made, &b.id).cmp(&(a.made, &a.id)));
    Ok(all)
}

/// Keeps an assignment; one that is there already is written over.
///
/// # Errors
/// Where the home cannot be written.
pub fn keep(home: &Path, assignment: &Assignment) -> Result<(), AssignmentTrouble> {
    let folder = home.join(FOLDER);
    fs::create_dir_all(&folder).map_err(|e| disk(&folder, &e))?;
    let path = folder.join(format!("{}.json", assignment.id));
    let json = serde_json::to_vec(assignment).map_err(|e| disk(&path, &std::io::Error::other(e)))?;
    put(&path, &json).map_err(|e| disk(&path, &e))
}

/// The assignment of this id, or the only one where none is named.
///
/// # Errors
/// Where there is none of that id, or none is named and there is not exactly one.
pub fn find(home: &Path, id: Option<&str>) -> Result<Assignment, AssignmentTrouble> {
    let all = list(home)?;
    let ids: Vec<&str> = all.iter().map(|assignment| assignment.id.as_str()).collect();
    match id {
        Some(id) => {
            let known =
                if ids.is_empty() { "there is none".to_owned() } else { format!("there are {}", ids.join(", ")) };
            let found = all.iter().find(|assignment| assignment.id == id).cloned();
            found.ok_or_else(|| AssignmentTrouble::Unknown { id: id.to_owned(), known })
        }
        None => match &all[..] {
            [only] => Ok(only.clone()),
            [] => Err(AssignmentTrouble::WhichOne(
                "this home holds no assignment. Take one in with `bedplate install FILE`".to_owned(),
            )),
            _ => Err(AssignmentTrouble::WhichOne(format!(
                "this home holds several assignments; name one with --assignment: {}",
                ids.join(", ")
            ))),
        },
    }
}

fn disk(path: &Path, error: &std::io::Error) -> AssignmentTrouble {
    AssignmentTrouble::Disk { path: path.to_owned(), why: error.to_string() }
}
