//! Backups: a copy of the profile at each start on which something has changed, the newest seven kept.
//!
//! A copy is written under another name, checked, put on the disk and only then given its name, so that a name
//! in the folder always stands for a whole copy. A running number in front keeps their order even where the
//! computer's clock was put back.

use std::fs::{self, File};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use rusqlite::Connection;

use super::backup_info::BackupInfo;
use super::copy::copy;
use super::error::StoreError;
use super::health::{self, Health, Look};
use super::{attempts, files, journal, rights, schema, stamp};
use crate::domain::day::Instant;

/// Backups kept.
pub const KEPT: usize = 7;

/// Backups are made one after the other.
static ONE_BY_ONE: Mutex<()> = Mutex::new(());

const MAKE: &str = "make a backup";
const BACK: &str = "put the backup back";

/// A profile's backups by their names, the newest first. They are not looked into.
///
/// # Errors
/// Where the folder is there and cannot be read.
pub fn list(dir: &Path) -> Result<Vec<BackupInfo>, StoreError> {
    let folder = files::backups(dir);
    let fail = |e: std::io::Error| StoreError::from_io("list the backups", &folder, &e);
    let entries = match fs::read_dir(&folder) {
        Err(e) if matches!(e.kind(), ErrorKind::NotFound | ErrorKind::NotADirectory) => return Ok(Vec::new()),
        other => other.map_err(fail)?,
    };
    let mut all = Vec::new();
    for entry in entries {
        let entry = entry.map_err(fail)?;
        let Some((number, made_at)) = entry.file_name().to_str().and_then(parse_name) else { continue };
        let meta = entry.metadata().map_err(fail)?;
        if meta.is_file() {
            all.push((number, BackupInfo { path: entry.path(), made_at, bytes: meta.len() }));
        }
    }
    all.sort_by_key(|(number, _)| std::cmp::Reverse(*number));
    Ok(all.into_iter().map(|(_, info)| info).collect())
}

/// The newest backup that a thorough look finds sound and in which every answer can be read; where there is none, the
/// newest that is sound.
pub(super) fn newest_good(dir: &Path) -> Option<BackupInfo> {
    let mut sound = list(dir).ok()?.into_iter().filter(is_sound).peekable();
    let newest = sound.peek().cloned();
    sound.find(|b| is_legible(&b.path)).or(newest)
}

fn is_sound(backup: &BackupInfo) -> bool {
    matches!(health::look(&backup.path, Look::Thorough), Ok(Health::Sound))
}

/// Every answer in it can be read.
fn is_legible(file: &Path) -> bool {
    health::open_to_read(file).and_then(|conn| attempts::unreadable(&conn)).is_ok_and(|unread| unread == 0)
}

/// A profile's file as it stood at one moment, whatever is recorded afterwards.
pub(super) struct Moment {
    conn: Connection,
    dir: PathBuf,
}

impl Moment {
    /// Holds the file as it stands now.
    pub(super) fn hold(file: &Path) -> Result<Self, StoreError> {
        let sql = |e: rusqlite::Error| StoreError::from_sql(MAKE, file, &e);
        let conn = health::open_to_read(file).map_err(sql)?;
        // A transaction sees what stood there at its first read, to its end.
        conn.execute_batch("BEGIN").map_err(sql)?;
        conn.query_row("SELECT count(*) FROM sqlite_schema", [], |_| Ok(())).map_err(sql)?;
        Ok(Self { conn, dir: file.parent().unwrap_or(Path::new(".")).to_owned() })
    }

    /// Makes a backup of it, unless nothing has changed since the newest; `None` then.
    pub(super) fn back_up(&self, now: Instant) -> Result<Option<BackupInfo>, StoreError> {
        // The start's backup may still be going on beside the store's thread.
        let _alone = ONE_BY_ONE.lock().unwrap_or_else(PoisonError::into_inner);
        make(&self.conn, &self.dir, now)
    }
}

/// Makes a backup of what `conn` sees and drops the oldest beyond [`KEPT`].
fn make(conn: &Connection, dir: &Path, now: Instant) -> Result<Option<BackupInfo>, StoreError> {
    let folder = files::backups(dir);
    let io = |e: std::io::Error| StoreError::from_io(MAKE, &folder, &e);
    rights::create_dir(&folder).map_err(io)?;
    clear_unfinished(&folder).map_err(io)?;
    let older = list(dir)?;
    let now_holds = holds(conn).map_err(|e| StoreError::from_sql(MAKE, dir, &e))?;
    if older.first().is_some_and(|newest| holds_of(&newest.path).as_ref() == Some(&now_holds)) {
        return Ok(None);
    }
    let number = older.first().and_then(|b| number_of(&b.path)).map_or(1, |n| n.saturating_add(1));
    let path = folder.join(format!("{number:06}-{}.sqlite", stamp::stamp(now)));
    let unfinished = files::with_suffix(&path, ".new");
    if let Err(error) = copy_checked(conn, &unfinished, &path) {
        // Gives the room back; where that fails the next start does it.
        let _ = files::remove_with_logs(&unfinished);
        return Err(error);
    }
    // One in which every answer can be read is not pushed out by those in which some cannot.
    let last_legible = if is_legible(&path) { None } else { older.iter().find(|b| is_legible(&b.path)) };
    for old in older.iter().skip(KEPT - 1).filter(|old| Some(*old) != last_legible) {
        files::remove(&old.path).map_err(io)?;
    }
    let bytes = fs::metadata(&path).map_err(io)?.len();
    Ok(Some(BackupInfo { made_at: stamp::parse(&stamp::stamp(now)).unwrap_or(now), path, bytes }))
}

/// Copies into `unfinished`, looks whether the copy is sound and gives it its name.
fn copy_checked(from: &Connection, unfinished: &Path, path: &Path) -> Result<(), StoreError> {
    copy(from, unfinished).map_err(|e| StoreError::from_sql(MAKE, unfinished, &e))?;
    match health::look(unfinished, Look::Quick)? {
        Health::Sound => files::put_in_place(unfinished, path).map_err(|e| StoreError::from_io(MAKE, unfinished, &e)),
        told => {
            let why = format!("the copy is not sound: {told:?}");
            Err(StoreError::Io { doing: MAKE.to_owned(), place: unfinished.to_owned(), why })
        }
    }
}

/// What a file holds that cannot be worked out again, in short: tables that are only ever added to by their
/// last row's number, the rest in full.
fn holds(conn: &Connection) -> rusqlite::Result<String> {
    // What version 3 brought is not in the older files that a backup is made of before they are brought up to date.
    let orals = if schema::version(conn)? >= 3 {
        "(SELECT max(rowid) FROM sitting), (SELECT count(*) FROM sitting_turn), (SELECT count(*) FROM sitting_end),
         (SELECT max(nr) FROM event)"
    } else {
        "NULL"
    };
    let sql = format!(
        "SELECT json_array(
            (SELECT user_version FROM pragma_user_version),
            (SELECT max(rowid) FROM attempt), (SELECT max(nr) FROM set_aside), (SELECT max(nr) FROM fault),
            (SELECT json FROM settings), (SELECT value FROM meta WHERE name = 'created-ms'), {orals})"
    );
    conn.query_row(&sql, [], |row| row.get(0))
}

fn holds_of(file: &Path) -> Option<String> {
    holds(&health::open_to_read(file).ok()?).ok()
}

/// Copies that an earlier start did not finish.
fn clear_unfinished(folder: &Path) -> std::io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let name = entry.file_name();
        let name = name.to_string_lossy();
        let base = name.trim_end_matches("-journal").trim_end_matches("-wal").trim_end_matches("-shm");
        if base.strip_suffix(".new").is_some_and(|whole| parse_name(whole).is_some()) {
            files::remove(&entry.path())?;
        }
    }
    Ok(())
}

/// Makes a copy of a backup, or of such a file, under the name of a profile that is being made; not yet in its place.
pub(super) fn bring_back(backup: &Path, dir: &Path) -> Result<PathBuf, StoreError> {
    let unfinished = files::unfinished(dir);
    let io = |e: std::io::Error| StoreError::from_io(BACK, &unfinished, &e);
    files::remove_with_logs(&unfinished).map_err(io)?;
    File::open(backup).and_then(|mut from| std::io::copy(&mut from, &mut rights::create(&unfinished)?)).map_err(io)?;
    Ok(unfinished)
}

/// Puts what [`bring_back`] made in the profile's place.
pub(super) fn put_in_place(unfinished: &Path, dir: &Path) -> Result<(), StoreError> {
    journal::keep_a_log(unfinished).map_err(|e| StoreError::from_sql(BACK, unfinished, &e))?;
    files::put_in_place(unfinished, &files::profile(dir)).map_err(|e| StoreError::from_io(BACK, unfinished, &e))
}

/// `000012-2026-11-25-130328Z.sqlite`.
fn parse_name(name: &str) -> Option<(u32, Instant)> {
    let (number, time) = name.strip_suffix(".sqlite")?.split_once('-')?;
    (number.len() >= 6).then_some(())?;
    Some((number.parse().ok()?, stamp::parse(time)?))
}

/// A backup's running number.
pub(super) fn number_of(path: &Path) -> Option<u32> {
    path.file_name()?.to_str().and_then(parse_name).map(|(number, _)| number)
}
