//! The files of a deck's folder as they go into a sealed deck: every regular file but those that hide behind a dot.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::Path;

use crate::deck::sealed::{Entry, Refusal, check_path};
use crate::deck::{MOST_DECK_BYTES, MOST_FILE_BYTES, MOST_FILES};

/// Why a folder's files could not be had.
#[derive(Debug, thiserror::Error)]
pub enum FolderTrouble {
    /// Something in it may not be in a sealed deck.
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// The system could not read it.
    #[error("`{path}` could not be read: {error}")]
    Unreadable {
        /// Below the deck's folder.
        path: String,
        /// The system's words.
        error: io::Error,
    },
}

/// Reads all files of a deck's folder, in the order of their paths.
///
/// # Errors
/// Where one cannot be read, is a link or a device, has a name that not every system can write, or is too much.
pub fn read(folder: &Path) -> Result<Vec<Entry>, FolderTrouble> {
    let mut files = Vec::new();
    let mut bytes_left = MOST_DECK_BYTES;
    add(folder, "", &mut files, &mut bytes_left)?;
    files.sort_by(|a, b| a.name.cmp(&b.name));
    Ok(files)
}

fn add(folder: &Path, above: &str, files: &mut Vec<Entry>, bytes_left: &mut u64) -> Result<(), FolderTrouble> {
    let unreadable = |path: &str, error| FolderTrouble::Unreadable { path: path.to_owned(), error };
    let entries =
        fs::read_dir(folder).map_err(|error| unreadable(if above.is_empty() { "." } else { above }, error))?;
    for entry in entries {
        let entry = entry.map_err(|error| unreadable(above, error))?;
        let name = entry.file_name().to_string_lossy().into_owned();
        if name.starts_with('.') {
            continue;
        }
        let path = format!("{above}{name}");
        check_path(&path, &path)?;
        let kind = entry.file_type().map_err(|error| unreadable(&path, error))?;
        if kind.is_dir() {
            add(&entry.path(), &format!("{path}/"), files, bytes_left)?;
        } else if kind.is_symlink() {
            let text = format!("`{path}` is a link; put the file itself in its place, or take it out of the deck");
            return Err(Refusal::rule("link", text).into());
        } else if !kind.is_file() {
            let text = format!("`{path}` is a device, a pipe or the like; take it out of the deck");
            return Err(Refusal::rule("device", text).into());
        } else {
            let bytes = bytes_of(&entry.path(), &path, *bytes_left)?;
            *bytes_left -= bytes.len() as u64;
            files.push(Entry { name: path.clone(), bytes });
        }
        if files.len() > MOST_FILES {
            let text = format!("with `{path}` the deck has more than {MOST_FILES} files");
            return Err(Refusal::rule("too-many-files", text).into());
        }
    }
    Ok(())
}

fn bytes_of(at: &Path, path: &str, bytes_left: u64) -> Result<Vec<u8>, FolderTrouble> {
    let most = MOST_FILE_BYTES.min(bytes_left);
    let mut bytes = Vec::new();
    File::open(at)
        .and_then(|file| file.take(most + 1).read_to_end(&mut bytes))
        .map_err(|error| FolderTrouble::Unreadable { path: path.to_owned(), error })?;
    if bytes.len() as u64 <= most {
        return Ok(bytes);
    }
    Err(FolderTrouble::Refused(match most == MOST_FILE_BYTES {
        true => Refusal::rule("file-too-large", format!("`{path}` has more than {MOST_FILE_BYTES} bytes")),
        false => {
            let text = format!("with `{path}` the deck has more than {MOST_DECK_BYTES} bytes");
            Refusal::rule("deck-too-large", text)
        }
    }))
}
