//! What to do with a damaged profile: set it aside under a new name, never deleted, and go on from the newest
//! good backup or afresh.

use std::fs;
use std::path::{Path, PathBuf};

use super::backup;
use super::backup_info::BackupInfo;
use super::error::{OpenError, StoreError};
use super::handle::Store;
use super::lock::ProfileLock;
use super::{files, fresh, health, salvage, schema, stamp};
use crate::domain::day::Instant;

const ASIDE: &str = "set the damaged profile aside";

/// What was done to a damaged profile. Open it again now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Recovered {
    /// Files and folders set aside, under their new names.
    pub set_aside: Vec<PathBuf>,
    /// The backup that was put in its place; `None` where it was started afresh.
    pub from: Option<BackupInfo>,
    /// Answers that the backup did not hold and that could be read from the damaged file or another backup.
    pub saved: u64,
}

/// The name that the profile's file would be set aside under.
pub(super) fn set_aside_name(dir: &Path, now: Instant) -> PathBuf {
    free_name(dir, "profile-damaged", ".sqlite", now)
}

impl Store {
    /// Sets a damaged profile aside under a new name and puts a copy of the newest good backup in its place.
    ///
    /// # Errors
    /// Where no good backup is found, the profile is open elsewhere, or the disk does not allow it.
    pub fn restore_backup(dir: &Path, now: Instant) -> Result<Recovered, OpenError> {
        restore_backup(dir, now)
    }

    /// Sets a damaged profile and its backups aside under new names and makes a new, empty one.
    ///
    /// # Errors
    /// Where the profile is open elsewhere or the disk does not allow it.
    pub fn start_afresh(dir: &Path, now: Instant) -> Result<Recovered, OpenError> {
        start_afresh(dir, now)
    }
}

fn restore_backup(dir: &Path, now: Instant) -> Result<Recovered, OpenError> {
    let _lock = ProfileLock::take(dir)?;
    let Some(good) = backup::newest_good(dir) else {
        let why = "no good backup of it was found; start afresh, the damaged file is set aside and not deleted";
        return Err(StoreError::Refused { what: "the profile".to_owned(), why: why.to_owned() }.into());
    };
    let unfinished = backup::bring_back(&good.path, dir)?;
    let saved = unite(dir, &unfinished, &good)?;
    // Only now, when all that could be read is in the copy: stopped before, all is as it was.
    let set_aside = set_aside(dir, now)?;
    backup::put_in_place(&unfinished, dir)?;
    Ok(Recovered { set_aside, from: Some(good), saved })
}

/// Brings what can be read of the damaged file and of the other backups into the copy of the good one; how many answers
/// were new.
fn unite(dir: &Path, unfinished: &Path, good: &BackupInfo) -> Result<u64, StoreError> {
    let sql = |e: rusqlite::Error| StoreError::from_sql("put the backup back", unfinished, &e);
    let mut conn = health::open_to_write(unfinished).map_err(sql)?;
    schema::migrate(&mut conn).map_err(sql)?;
    let others = backup::list(dir)?.into_iter().map(|b| b.path).filter(|path| *path != good.path);
    let mut saved = salvage::unite(&mut conn, unfinished, &files::profile(dir), true)?;
    for other in others {
        saved += salvage::unite(&mut conn, unfinished, &other, false)?;
    }
    conn.close().map_err(|(_, e)| sql(e))?;
    Ok(saved)
}

fn start_afresh(dir: &Path, now: Instant) -> Result<Recovered, OpenError> {
    let _lock = ProfileLock::take(dir)?;
    let mut moved = set_aside(dir, now)?;
    // The old backups would be pushed out by those of the new profile: they go aside as well.
    let backups = files::backups(dir);
    if backups.exists() {
        let to = free_name(dir, "backups-before", "", now);
        fs::rename(&backups, &to).map_err(|e| StoreError::from_io(ASIDE, &backups, &e))?;
        moved.push(to);
    }
    fresh::create(dir, now)?;
    Ok(Recovered { set_aside: moved, from: None, saved: 0 })
}

/// Renames the profile's file and what stands beside it, together, so that SQLite's own tools still find the log.
fn set_aside(dir: &Path, now: Instant) -> Result<Vec<PathBuf>, StoreError> {
    let (file, aside) = (files::profile(dir), set_aside_name(dir, now));
    let mut moved = Vec::new();
    // The log first: should this stop half-way, the file is still in its place and asked about again.
    for suffix in files::LOGS.into_iter().chain([""]) {
        let (from, to) = (files::with_suffix(&file, suffix), files::with_suffix(&aside, suffix));
        match fs::rename(&from, &to) {
            Ok(()) => moved.push(to),
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => {}
            Err(e) => return Err(StoreError::from_io(ASIDE, &from, &e)),
        }
    }
    files::sync_dir(dir).map_err(|e| StoreError::from_io(ASIDE, dir, &e))?;
    Ok(moved)
}

/// A name in `dir` that is not taken, nor with one of SQLite's endings.
fn free_name(dir: &Path, before: &str, after: &str, now: Instant) -> PathBuf {
    let base = format!("{before}-{}", stamp::stamp(now));
    let taken = |path: &Path| files::LOGS.iter().chain(&[""]).any(|s| files::with_suffix(path, s).exists());
    let mut path = dir.join(format!("{base}{after}"));
    let mut number = 2u32;
    while taken(&path) {
        path = dir.join(format!("{base}-{number}{after}"));
        number = number.saturating_add(1);
    }
    path
}
