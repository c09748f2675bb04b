//! Is a profile's file sound? Looks without writing: a file from a later version or a damaged one stays as it is.

use std::fs::{self, File};
use std::io::{ErrorKind, Read};
use std::path::Path;

use rusqlite::{Connection, OpenFlags};

use super::error::StoreError;
use super::{files, rights, schema};

/// What a look at a file told.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Health {
    /// No file.
    Missing,
    /// A sound file of a version that this program reads.
    Sound,
    /// A file of this later version.
    Newer(u32),
    /// Not to be used, for this reason.
    Damaged(String),
}

/// How closely to look.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Look {
    /// Every page, but not whether indexes agree with their tables: quick enough for each start.
    Quick,
    /// All of it.
    Thorough,
}

/// So many complaints are gone through: those about the content of rows do not hide one about the file.
const MOST_TOLD: u32 = 1_000_000;

/// SQLite's file header (https://www.sqlite.org/fileformat2.html, section 1.3): 100 bytes, the version of the
/// program's own at 60, its mark at 68, both big-endian.
const HEADER: usize = 100;
const MAGIC: &[u8; 16] = b"SQLite format 3\0";

/// Looks at a file.
///
/// # Errors
/// Where the disk or the rights to it keep us from looking.
pub(super) fn look(file: &Path, closely: Look) -> Result<Health, StoreError> {
    let doing = "look at the profile";
    let io = |e: std::io::Error| StoreError::from_io(doing, file, &e);
    match fs::metadata(file) {
        Err(e) if e.kind() == ErrorKind::NotFound => {
            let lone_log = fs::metadata(files::with_suffix(file, "-wal")).is_ok_and(|log| log.len() > 0);
            return Ok(if lone_log {
                Health::Damaged("it is missing, its log is not".to_owned())
            } else {
                Health::Missing
            });
        }
        Err(e) => return Err(io(e)),
        Ok(meta) if meta.is_dir() => return Ok(Health::Damaged("a folder stands in its place".to_owned())),
        Ok(meta) if !meta.is_file() => return Ok(Health::Damaged("it is no ordinary file".to_owned())),
        Ok(_) => {}
    }
    let mut header = Vec::with_capacity(HEADER);
    File::open(file).and_then(|f| f.take(HEADER as u64).read_to_end(&mut header)).map_err(io)?;
    if let Some(told) = by_header(&header) {
        return Ok(told);
    }
    match by_pages(file, closely).or_else(|error| after_undoing(file, error, closely)) {
        Ok(health) => Ok(health),
        Err(error) => match StoreError::from_sql(doing, file, &error) {
            StoreError::Damaged { why, .. } => Ok(Health::Damaged(why)),
            other => Err(other),
        },
    }
}

/// What the header tells, where it tells enough.
fn by_header(header: &[u8]) -> Option<Health> {
    let number = |at: usize| header.get(at..at + 4).map(|b| u32::from_be_bytes([b[0], b[1], b[2], b[3]]));
    let damaged = |why: &str| Some(Health::Damaged(why.to_owned()));
    let (Some(version), Some(mark)) = (number(60), number(68).filter(|_| header.len() == HEADER)) else {
        return damaged(if header.is_empty() { "it is empty" } else { "it is cut short" });
    };
    if !header.starts_with(MAGIC) {
        damaged("it does not begin as a database file does")
    } else if mark != schema::APPLICATION_ID as u32 {
        damaged("it is not a file of this program")
    } else if version > schema::VERSION {
        Some(Health::Newer(version))
    } else {
        None
    }
}

/// A program that was killed while a file had no write-ahead log yet leaves a journal of what was half done. Reading
/// alone cannot undo that: the file is opened for writing, which does, and looked at again.
fn after_undoing(file: &Path, error: rusqlite::Error, closely: Look) -> rusqlite::Result<Health> {
    let journal = fs::metadata(files::with_suffix(file, "-journal")).is_ok_and(|journal| journal.len() > 0);
    if !journal || error.sqlite_error_code() == Some(rusqlite::ErrorCode::DatabaseCorrupt) {
        return Err(error);
    }
    let conn = open_to_write(file)?;
    schema::version(&conn)?;
    conn.close().map_err(|(_, e)| e)?;
    by_pages(file, closely)
}

/// What SQLite finds on going through the file, its log included.
fn by_pages(file: &Path, closely: Look) -> rusqlite::Result<Health> {
    let conn = open_to_read(file)?;
    let version = schema::version(&conn)?;
    if version > schema::VERSION {
        return Ok(Health::Newer(version));
    }
    let pragma = match closely {
        Look::Quick => format!("PRAGMA quick_check({MOST_TOLD})"),
        Look::Thorough => format!("PRAGMA integrity_check({MOST_TOLD})"),
    };
    // Whether a row's content may be what it is: that is for its reader to say, who leaves out what makes no sense.
    conn.pragma_update(None, "ignore_check_constraints", true)?;
    let mut statement = conn.prepare(&pragma)?;
    let mut told = statement.query([])?;
    while let Some(row) = told.next()? {
        let told: String = row.get(0)?;
        if told != "ok" && !is_of_content(&told) && !is_of_search_alone(&told) {
            return Ok(Health::Damaged(told.lines().collect::<Vec<_>>().join(" ")));
        }
    }
    drop(told);
    Ok(match schema::missing_table(&conn, version)? {
        Some(table) => Health::Damaged(format!("its table `{table}` is missing")),
        None => Health::Sound,
    })
}

/// Whether SQLite only finds fault with the content of one row, as "NULL value in attempt.card": the rest can be used.
fn is_of_content(told: &str) -> bool {
    let (before, after) = told.split_once(" value in ").unwrap_or_default();
    let sort = before.trim_start_matches("non-");
    told.starts_with("CHECK constraint failed in ")
        || !after.is_empty() && matches!(sort, "NULL" | "TEXT" | "NUMERIC" | "INTEGER" | "REAL" | "INT" | "BLOB")
}

/// Whether SQLite only finds fault with what is inside a search index, which files before version 4 still hold. It looks at those last, when all pages and
/// tables are found sound, and the search builds its indexes again by itself: no reason to give up attempts.
fn is_of_search_alone(told: &str) -> bool {
    told.starts_with("fts5: ") || told.contains(" inverted index for FTS5 table ")
}

/// Opens a file to read it only.
pub(super) fn open_to_read(file: &Path) -> rusqlite::Result<Connection> {
    // No `SQLITE_OPEN_URI`: a file's name is a name, whatever it begins with.
    let conn = Connection::open_with_flags(file, OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX)?;
    conn.busy_timeout(files::BUSY)?;
    Ok(conn)
}

/// Opens a file to read and write it, making it where there is none.
pub(super) fn open_to_write(file: &Path) -> rusqlite::Result<Connection> {
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_CREATE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    // An empty file is a new database to SQLite; made here, it is its owner's alone, and so are the logs beside it.
    // Where it cannot be made SQLite says why.
    if !file.exists() {
        let _ = rights::open_or_create(file);
    }
    let conn = Connection::open_with_flags(file, flags)?;
    conn.busy_timeout(files::BUSY)?;
    Ok(conn)
}
