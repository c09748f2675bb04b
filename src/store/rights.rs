//! Who may read a profile: its owner alone. Folders 0700 and files 0600 where the system knows such rights (elsewhere
//! a home folder is its owner's anyway).

use std::fs::{self, File, OpenOptions};
use std::io;
use std::path::Path;

use super::home;

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

/// Makes a folder and those above it that are missing; one that is made here is its owner's alone. One that is there
/// stays as it is: it may be anybody's.
///
/// # Errors
/// Where the folder cannot be made.
pub fn create_dir(path: &Path) -> io::Result<()> {
    let is_new = !path.exists();
    fs::create_dir_all(path)?;
    if is_new {
        limit(path, 0o700);
    }
    Ok(())
}

/// Takes others' rights to a profile away, as far as the system lets us: what an earlier version of the program made was
/// readable by everybody. Only files with the names that the program gives; links are not followed.
pub(super) fn limit_profile(dir: &Path) {
    let above = dir.parent().filter(|above| above.file_name().is_some_and(|name| name == home::PROFILES));
    if let Some(above) = above {
        limit(above, 0o700);
        limit(dir, 0o700);
    }
    limit_files(dir, |name| name.starts_with("profile") || name.starts_with("search.sqlite"));
    for entry in fs::read_dir(dir).into_iter().flatten().flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        let is_ours = name == "recordings" || name == "backups" || name.starts_with("backups-before");
        if is_ours && entry.file_type().is_ok_and(|sort| sort.is_dir()) {
            limit(&entry.path(), 0o700);
            limit_files(&entry.path(), |name| name.ends_with(".wav") || name.contains(".sqlite"));
        }
    }
}

fn limit_files(dir: &Path, is_ours: impl Fn(&str) -> bool) {
    for entry in fs::read_dir(dir).into_iter().flatten().flatten() {
        if entry.file_type().is_ok_and(|sort| sort.is_file()) && is_ours(&entry.file_name().to_string_lossy()) {
            limit(&entry.path(), 0o600);
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
