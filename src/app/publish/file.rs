//! Files that go from hand to hand, as bytes: read no further than anything that is taken in may be, and written so that
//! nobody ever sees half of one.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Write};
use std::path::Path;

use crate::deck::sealed::{MOST_SEALED_BYTES, Refusal};

/// Reads a file; of one that is too large only so much that this can be told.
///
/// # Errors
/// Where it is no ordinary file, or the system refuses it.
pub fn read(path: &Path) -> Result<Vec<u8>, Refusal> {
    let unreadable =
        |why: &str| Refusal::unreadable("file-unreadable", format!("`{}` could not be read: {why}", path.display()));
    let meta = fs::metadata(path).map_err(|error| unreadable(&error.to_string()))?;
    if !meta.is_file() {
        return Err(unreadable("it is no ordinary file"));
    }
    let mut bytes = Vec::new();
    let read = File::open(path).and_then(|file| file.take(MOST_SEALED_BYTES + 1).read_to_end(&mut bytes));
    read.map_err(|error| unreadable(&error.to_string()))?;
    Ok(bytes)
}

/// Writes a file: beside, onto the disk, and then in its place; what was there before is replaced by all of it or stays.
///
/// # Errors
/// Where the disk does not take it.
pub fn put(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let name = path.file_name().ok_or_else(|| io::Error::other("it has no name"))?.to_string_lossy().into_owned();
    let parent = path.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let beside = parent.join(format!(".{name}-{}.unfinished", std::process::id()));
    let written = OpenOptions::new()
        .write(true)
        .create(true)
        .truncate(true)
        .open(&beside)
        .and_then(|mut file| file.write_all(bytes).and_then(|()| file.sync_all()))
        .and_then(|()| fs::rename(&beside, path));
    if written.is_err() {
        let _ = fs::remove_file(&beside);
    }
    written?;
    if cfg!(unix) {
        // A file system that cannot sync a folder has done all that it can.
        let _ = File::open(parent).and_then(|parent| parent.sync_all());
    }
    Ok(())
}
