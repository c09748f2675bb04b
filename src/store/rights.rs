//! Who may read a profile: its owner alone. Folders 0700 and files 0600 where the system knows such rights (elsewhere
//! a home folder is its owner's anyway).

use std::fs::{self, File, OpenOptions};
use std::io;
use std::path::Path;

/// Creates a file, or empties one that is there, that only its owner may read.
pub(super) fn create(path: &Path) -> io::Result<File> {
    owners(OpenOptions::new().write(true).create(true).truncate(true)).open(path)
}

/// Opens a file to write it, making it where there is none; what it holds stays.
pub(super) fn open_or_create(path: &Path) -> io::Result<File> {
    owners(OpenOptions::new().write(true).create(true).truncate(false)).open(path)
}

#[cfg(unix)]
fn owners(options: &mut OpenOptions) -> &mut OpenOptions {
    use std::os::unix::fs::OpenOptionsExt;
    options.mode(0o600)
}

#[cfg(not(unix))]
fn owners(options: &mut OpenOptions) -> &mut OpenOptions {
    options
}

/// Makes a folder and those above it that are missing; it is its owner's alone.
///
/// # Errors
/// Where the folder cannot be made.
pub fn create_dir(path: &Path) -> io::Result<()> {
    fs::create_dir_all(path)?;
    limit(path, 0o700);
    Ok(())
}

/// Takes others' rights to a folder and all that is in it away, as far as the system lets us: what an earlier version
/// of the program made was readable by everybody. Links are not followed.
pub(super) fn limit_all(dir: &Path) {
    limit(dir, 0o700);
    for entry in fs::read_dir(dir).into_iter().flatten().flatten() {
        match entry.file_type() {
            Ok(sort) if sort.is_dir() => limit_all(&entry.path()),
            Ok(sort) if sort.is_file() => limit(&entry.path(), 0o600),
            _ => {}
        }
    }
}

/// Takes away what is beyond `mode`. Somebody else's file, or a disk that knows no rights, stays as it is.
#[cfg(unix)]
fn limit(path: &Path, mode: u32) {
    use std::os::unix::fs::PermissionsExt;
    let Ok(meta) = fs::metadata(path) else { return };
    let now = meta.permissions().mode() & 0o7777;
    if now & !mode != 0 {
        let _ = fs::set_permissions(path, fs::Permissions::from_mode(now & mode));
    }
}

#[cfg(not(unix))]
fn limit(_path: &Path, _mode: u32) {}
