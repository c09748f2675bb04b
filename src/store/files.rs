//! Names of the files in a profile's folder, and the careful way to put a file in its place.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;

use super::rights;

/// How long SQLite waits for a file that another connection is writing.
pub(super) const BUSY: Duration = Duration::from_secs(5);

/// The profile itself.
pub(super) fn profile(dir: &Path) -> PathBuf {
    dir.join("profile.sqlite")
}

/// The search index.
pub(super) fn search(dir: &Path) -> PathBuf {
    dir.join("search.sqlite")
}

/// A new profile while it is being made.
pub(super) fn unfinished(dir: &Path) -> PathBuf {
    dir.join("profile.sqlite.new")
}

/// The folder of its backups.
pub(super) fn backups(dir: &Path) -> PathBuf {
    dir.join("backups")
}

/// The lock.
pub(super) fn lock(dir: &Path) -> PathBuf {
    dir.join("profile.lock")
}

/// A file's name with something after it, as SQLite names its log: `profile.sqlite-wal`.
pub(super) fn with_suffix(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(suffix);
    name.into()
}

/// Removes a file that may not be there.
pub(super) fn remove(path: &Path) -> io::Result<()> {
    match fs::remove_file(path) {
        Err(e) if e.kind() == io::ErrorKind::NotFound => Ok(()),
        other => other,
    }
}

/// What SQLite may put beside a file.
pub(super) const LOGS: [&str; 3] = ["-wal", "-shm", "-journal"];

/// Removes a database that may not be there, with what stands beside it.
pub(super) fn remove_with_logs(path: &Path) -> io::Result<()> {
    LOGS.iter().try_for_each(|suffix| remove(&with_suffix(path, suffix)))?;
    remove(path)
}

/// Makes sure that `from` is on the disk, then gives it the name `to`, in one step for all who look.
pub(super) fn put_in_place(from: &Path, to: &Path) -> io::Result<()> {
    File::options().write(true).open(from)?.sync_all()?;
    fs::rename(from, to)?;
    sync_dir(to.parent().unwrap_or(Path::new(".")))
}

/// Writes a small file so that readers see the old text or the new, never half of it.
pub(super) fn write_whole(path: &Path, text: &str) -> io::Result<()> {
    let unfinished = with_suffix(path, ".new");
    rights::create(&unfinished)?.write_all(text.as_bytes())?;
    put_in_place(&unfinished, path)
}

/// Makes renames in a folder last through a power cut. Windows has no such call and needs none.
pub(super) fn sync_dir(dir: &Path) -> io::Result<()> {
    if cfg!(unix) { File::open(dir)?.sync_all() } else { Ok(()) }
}
