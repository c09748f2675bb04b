//! Is the profile's file still the one that was opened? A program that synchronises files may put another in its place
//! or take it away; what is then written goes nowhere that the next start looks.

use std::path::{Path, PathBuf};

use rusqlite::Connection;

use super::copy::copy;
use super::error::StoreError;
use super::files;

/// What a file is known by, beside its name.
type Identity = (u64, u64);

/// The place of an open profile.
#[derive(Default)]
pub(super) struct Place {
    /// The log as it was first seen: SQLite keeps one and the same while the profile is open.
    log: Option<Identity>,
    /// The file was found gone, with the copy that was then made.
    gone: Option<Option<PathBuf>>,
    /// The disk that the file lay on when it was first looked for.
    disk: Option<u64>,
}

impl Place {
    /// Fails where the file or its log is not the one that was opened. The first time, all that was kept is copied to
    /// a new name beside it, from the open file, which the system keeps until it is closed.
    pub(super) fn check(&mut self, conn: &Connection, file: &Path, doing: &str) -> Result<(), StoreError> {
        let disk = disk_of(file);
        let is_elsewhere = self.disk.is_some() && self.disk != disk;
        if self.gone.is_none() && !(is_elsewhere || has_moved(conn, file) || self.log_has_moved(file)) {
            self.disk = disk;
            return Ok(());
        }
        if self.gone.is_none() && is_elsewhere {
            // Nothing was moved: the whole disk is away, with all that was kept.
            return Err(StoreError::DiskGone { doing: doing.to_owned(), place: file.to_owned() });
        }
        let copy = self.gone.get_or_insert_with(|| copy_aside(conn, file)).clone();
        Err(StoreError::Moved { doing: doing.to_owned(), place: file.to_owned(), copy })
    }

    fn log_has_moved(&mut self, file: &Path) -> bool {
        let now = identity(&files::with_suffix(file, "-wal"));
        match self.log {
            None => {
                self.log = now;
                false
            }
            Some(_) => self.log != now,
        }
    }
}

#[cfg(unix)]
fn has_moved(conn: &Connection, _file: &Path) -> bool {
    let mut moved = 0;
    let asked = conn.file_control(Some(rusqlite::MAIN_DB), rusqlite::FileControl::HasMoved(&mut moved));
    asked.is_ok() && moved != 0
}

/// An open file can be neither replaced nor removed there; a folder may have been taken away with its disk.
#[cfg(not(unix))]
fn has_moved(_conn: &Connection, file: &Path) -> bool {
    !file.exists()
}

/// The disk that a file lies on, or would lie on: that of the nearest folder above it that is there.
fn disk_of(file: &Path) -> Option<u64> {
    file.ancestors().find_map(identity).map(|(disk, _)| disk)
}

#[cfg(unix)]
fn identity(path: &Path) -> Option<Identity> {
    use std::os::unix::fs::MetadataExt;
    std::fs::metadata(path).ok().map(|meta| (meta.dev(), meta.ino()))
}

#[cfg(not(unix))]
fn identity(_path: &Path) -> Option<Identity> {
    None
}

const BEFORE: &str = "profile-rescued-";
const AFTER: &str = ".sqlite";

/// Copies what the open file holds to a free name beside it; none where that cannot be done.
fn copy_aside(conn: &Connection, file: &Path) -> Option<PathBuf> {
    let dir = file.parent()?;
    super::rights::create_dir(dir).ok()?;
    let to = (1u32..).map(|n| dir.join(format!("{BEFORE}{n}{AFTER}"))).find(|path| !path.exists())?;
    let unfinished = files::with_suffix(&to, ".new");
    let done = files::remove_with_logs(&unfinished).is_ok()
        && copy(conn, &unfinished).is_ok()
        && files::put_in_place(&unfinished, &to).is_ok();
    done.then_some(to)
}

/// Copies that were put aside so and have not been taken in since.
pub(super) fn copies(dir: &Path) -> Vec<PathBuf> {
    let mut all: Vec<PathBuf> = std::fs::read_dir(dir)
        .into_iter()
        .flatten()
        .flatten()
        .filter(|entry| {
            let name = entry.file_name().to_string_lossy().into_owned();
            let number = name.strip_prefix(BEFORE).and_then(|rest| rest.strip_suffix(AFTER));
            number.is_some_and(|n| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit()))
        })
        .map(|entry| entry.path())
        .collect();
    all.sort();
    all
}

/// A copy has been taken in: it stays, under a name that is not looked at again.
pub(super) fn taken_in(copy: &Path) -> std::io::Result<()> {
    std::fs::rename(copy, files::with_suffix(copy, ".taken-in"))
}
