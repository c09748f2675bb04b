//! How a profile's file is written so that what is committed lasts: with a write-ahead log where its file system can have
//! one, otherwise with a rollback journal. The log needs memory that programs share (its `-shm` file); network shares and
//! some sticks have none, or share it with nobody. The promise is the same with both: `synchronous=FULL`, and TRUNCATE,
//! which puts the end of a commit on the disk before the commit counts
//! (https://www.sqlite.org/wal.html, https://www.sqlite.org/pragma.html#pragma_journal_mode).

use std::fs::File;
use std::io::Read;
use std::path::Path;

use rusqlite::config::DbConfig;
use rusqlite::{Connection, ErrorCode, ffi};

use super::{files, health, mounts, schema};

/// How a file is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Journal {
    /// With a write-ahead log.
    #[default]
    Ahead,
    /// With a rollback journal.
    Rollback,
}

/// What of a folder decides: found out with a small file of its own beside the others, which goes again at once.
pub(super) fn of_folder(dir: &Path) -> Journal {
    if mounts::is_shared(dir) {
        return Journal::Rollback;
    }
    let file = dir.join("profile.probe");
    // One that was left by a killed program, or that cannot be removed, tells as much.
    let clear = || drop((files::remove_with_logs(&file), files::remove(&file)));
    clear();
    let told = try_log(&file);
    clear();
    match told {
        Ok(journal) => journal,
        Err(error) if is_of_log(&error) || error.sqlite_error_code() == Some(ErrorCode::ReadOnly) => Journal::Rollback,
        // A full disk and the like: whoever opens the file says it better.
        Err(_) => Journal::Ahead,
    }
}

fn try_log(file: &Path) -> rusqlite::Result<Journal> {
    let conn = health::open_to_write(file)?;
    let mode: String = conn.query_row("PRAGMA journal_mode = WAL", [], |row| row.get(0))?;
    if mode != "wal" {
        return Ok(Journal::Rollback);
    }
    conn.execute_batch("CREATE TABLE probe (one INTEGER); DROP TABLE probe")?;
    Ok(Journal::Ahead)
}

/// Makes a file that bears the mark of a log one without it, where its folder can have no log: one that was copied there,
/// or made there by an earlier version. What its log holds comes into the file. Gives how the file is written from now
/// on; a file that cannot be looked at stays as it is, for whoever looks at it next.
pub(super) fn settle(file: &Path) -> Journal {
    let dir = file.parent().unwrap_or(Path::new("."));
    if !has_mark(file) {
        return of_folder(dir);
    }
    let is_shared = mounts::is_shared(dir);
    if !is_shared && can_begin(file) {
        return Journal::Ahead;
    }
    match unmark(file) {
        Ok(()) => Journal::Rollback,
        // Left as it is: a log that could not be used by us may be usable by others.
        Err(_) => of_folder(dir),
    }
}

/// Whether a change of a file with a log can be begun, as far as its log is concerned. None is made, and the file and its
/// log stay as they are.
fn can_begin(file: &Path) -> bool {
    let Ok(conn) = health::open_to_write(file) else { return true };
    let _ = conn.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true);
    match conn.execute_batch("BEGIN IMMEDIATE; ROLLBACK") {
        Ok(()) => true,
        // Where the log's shared memory can only be read, all of it is as if it were write-protected.
        Err(error) if error.sqlite_error_code() == Some(ErrorCode::ReadOnly) => {
            conn.is_readonly(rusqlite::MAIN_DB).unwrap_or(true)
        }
        Err(error) => !is_of_log(&error),
    }
}

/// Alone with the file SQLite keeps the log's index in its own memory, and needs no shared one.
fn unmark(file: &Path) -> rusqlite::Result<()> {
    let conn = health::open_to_write(file)?;
    conn.query_row("PRAGMA locking_mode = EXCLUSIVE", [], |_| Ok(()))?;
    if schema::version(&conn)? > schema::VERSION {
        // It stays as it is, its log, too.
        conn.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true)?;
        return Err(rusqlite::Error::SqliteFailure(ffi::Error::new(ffi::SQLITE_CANTOPEN), None));
    }
    set_rollback(&conn)?;
    conn.close().map_err(|(_, e)| e)
}

/// Marks a file, still under another name, as one with a write-ahead log, where its folder can have one. Done before it
/// gets its name, so that a profile never has an unfinished change of that mark beside it, which reading alone could not
/// undo.
pub(super) fn keep_a_log(file: &Path) -> rusqlite::Result<()> {
    if of_folder(file.parent().unwrap_or(Path::new("."))) == Journal::Rollback {
        return Ok(());
    }
    let conn = health::open_to_write(file)?;
    conn.query_row("PRAGMA journal_mode = WAL", [], |_| Ok(()))?;
    conn.close().map_err(|(_, e)| e)
}

/// Has a connection write as the folder allows, so that what is committed lasts.
pub(super) fn make_lasting(conn: &Connection, journal: Journal) -> rusqlite::Result<()> {
    match journal {
        Journal::Ahead => conn.query_row("PRAGMA journal_mode = WAL", [], |_| Ok(()))?,
        Journal::Rollback => set_rollback(conn)?,
    }
    conn.pragma_update(None, "synchronous", "FULL")
}

fn set_rollback(conn: &Connection) -> rusqlite::Result<()> {
    let mode: String = conn.query_row("PRAGMA journal_mode = TRUNCATE", [], |row| row.get(0))?;
    if mode == "truncate" {
        return Ok(());
    }
    let why = format!("its journal is `{mode}` and could not be made another");
    Err(rusqlite::Error::SqliteFailure(ffi::Error::new(ffi::SQLITE_IOERR), Some(why)))
}

/// Whether the file's head says that it has a log (https://www.sqlite.org/fileformat2.html, section 1.3.3).
fn has_mark(file: &Path) -> bool {
    let mut head = [0; 20];
    File::open(file).and_then(|mut file| file.read_exact(&mut head)).is_ok() && head[18..20] == [2, 2]
}

/// Whether a log is what SQLite fails over.
fn is_of_log(error: &rusqlite::Error) -> bool {
    let Some(ffi::Error { code, extended_code }) = error.sqlite_error() else { return false };
    let of_log = [
        ffi::SQLITE_IOERR_SHMOPEN,
        ffi::SQLITE_IOERR_SHMSIZE,
        ffi::SQLITE_IOERR_SHMLOCK,
        ffi::SQLITE_IOERR_SHMMAP,
        ffi::SQLITE_PROTOCOL,
    ];
    *code == ErrorCode::CannotOpen || of_log.contains(extended_code)
}
