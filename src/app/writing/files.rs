//! Files of a deck that is being written: put in place whole, and looked at for whether they have changed.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::Path;
use std::time::SystemTime;

/// So many files and folders are looked at.
const MOST: usize = 4_000;

/// How the files of a folder stand: by name, when each was last changed and how long it is.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Stamp(Vec<(String, Option<SystemTime>, u64)>);

impl Stamp {
    /// How the files of a folder and of the folders in it stand now; names that begin with a dot are passed over.
    pub fn of(folder: &Path) -> Self {
        let mut all = Vec::new();
        look(folder, "", &mut all);
        all.sort();
        Self(all)
    }
}

fn look(folder: &Path, prefix: &str, all: &mut Vec<(String, Option<SystemTime>, u64)>) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries.flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        if name.starts_with('.') || all.len() >= MOST {
            continue;
        }
        let Ok(meta) = entry.metadata() else { continue };
        if meta.is_dir() && prefix.is_empty() {
            look(&entry.path(), &format!("{name}/"), all);
        }
        all.push((format!("{prefix}{name}"), meta.modified().ok(), meta.len()));
    }
}

/// The text of a file.
///
/// # Errors
/// Where it cannot be read, or is no UTF-8.
pub fn text_of(file: &Path) -> io::Result<String> {
    fs::read_to_string(file)
}

/// Puts a text into a file, whole or not at all: it is written beside it and takes its place. The file's rights stay.
///
/// # Errors
/// Where it cannot be written; the file is then as it was.
pub fn put(file: &Path, text: &str) -> io::Result<()> {
    let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let draft = file.with_file_name(format!(".{name}.{}.unfinished", std::process::id()));
    let written = write(&draft, text, file).and_then(|()| fs::rename(&draft, file));
    if written.is_err() {
        let _ = fs::remove_file(&draft);
        return written;
    }
    // Where a folder cannot be synced, as on some systems, the file is in place all the same.
    if let Some(Ok(folder)) = file.parent().map(File::open) {
        let _ = folder.sync_all();
    }
    Ok(())
}

fn write(draft: &Path, text: &str, like: &Path) -> io::Result<()> {
    let mut file = File::create(draft)?;
    if let Ok(meta) = fs::metadata(like) {
        file.set_permissions(meta.permissions())?;
    }
    file.write_all(text.as_bytes())?;
    file.sync_all()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_put_in_place_whole_and_nothing_is_left_beside_it() {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("cards.toml");
        fs::write(&file, "before").expect("written");
        let before = Stamp::of(folder.path());
        assert_eq!(Stamp::of(folder.path()), before);
        put(&file, "after, and longer").expect("put");
        assert_eq!(text_of(&file).expect("readable"), "after, and longer");
        assert_ne!(Stamp::of(folder.path()), before);
        assert_eq!(fs::read_dir(folder.path()).expect("readable").count(), 1);
        assert!(put(&folder.path().join("gone/cards.toml"), "nothing").is_err());
    }

    #[test]
    fn what_lies_in_folders_and_is_hidden_is_told_apart() {
        let folder = tempfile::tempdir().expect("a folder");
        fs::create_dir(folder.path().join("cards")).expect("made");
        let empty = Stamp::of(folder.path());
        fs::write(folder.path().join(".swap"), "x").expect("written");
        assert_eq!(Stamp::of(folder.path()), empty);
        fs::write(folder.path().join("cards/a.toml"), "x").expect("written");
        assert_ne!(Stamp::of(folder.path()), empty);
    }
}
