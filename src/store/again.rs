//! Going on with a profile whose disk failed or was taken out and is back. Whether the file that is there now is the one
//! that was open is told by what was kept in it: nothing that was said to be kept may be missing.

use std::path::Path;

use rusqlite::config::DbConfig;
use rusqlite::{Connection, params};

use super::connect::connect;
use super::db::Db;
use super::error::{OpenError, StoreError};
use super::held::{Held, held};
use super::index::Index;
use super::journal;
use super::lock::ProfileLock;
use super::place::Place;
use super::voids::{self, Voided};

/// Opens the file anew after its disk failed.
pub(super) fn go_on(db: &mut Db, doing: &str) -> Result<(), StoreError> {
    let file = db.file.clone();
    let fail = |e: rusqlite::Error| StoreError::from_sql(doing, &file, &e);
    if !file.exists() {
        return Err(StoreError::DiskGone { doing: doing.to_owned(), place: file.clone() });
    }
    // SQLite knows files by their disk and number: the old connection goes first, and leaves the log to the new one.
    let old = std::mem::replace(&mut db.conn, Connection::open_in_memory().map_err(fail)?);
    let _ = old.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true);
    drop(old);
    (db.search, db.lock) = (Index::default(), None);
    let dir = file.parent().unwrap_or(Path::new("."));
    let lock = ProfileLock::take(dir).map_err(|error| match error {
        OpenError::Store(error) => error,
        _ => StoreError::Busy { doing: doing.to_owned(), place: file.clone() },
    })?;
    let journal = journal::settle(&file);
    let conn = connect(&file, journal, doing)?;
    let now = held(&conn).map_err(fail)?;
    if let Some(before) = &db.held {
        if !holds(&conn, &now, before).map_err(fail)? {
            return Err(StoreError::Moved { doing: doing.to_owned(), place: file.clone(), copy: None });
        }
        take_back_refused(&conn, before).map_err(fail)?;
    }
    db.search.set_journal(journal);
    (db.conn, db.lock, db.journal, db.place, db.failed) = (conn, Some(lock), journal, Place::default(), false);
    Ok(())
}

/// Whether all that was there before is there now.
fn holds(conn: &Connection, now: &Held, before: &Held) -> rusqlite::Result<bool> {
    let more = now.rows.iter().zip(&before.rows).all(|(now, before)| now >= before);
    let same = match &before.last {
        None => true,
        Some((row, id)) => {
            conn.prepare("SELECT 1 FROM attempt WHERE rowid = ?1 AND id = ?2")?.exists(params![row, id])?
        }
    };
    Ok(now.made == before.made && more && same)
}

/// An answer that was on its way when the disk failed may have reached it though it was not said to be kept: the learner
/// gives it again, so that this one is taken back.
fn take_back_refused(conn: &Connection, before: &Held) -> rusqlite::Result<()> {
    let after = before.last.as_ref().map_or(0, |(row, _)| *row);
    let mut statement = conn.prepare("SELECT id, at_ms FROM attempt WHERE rowid > ?1")?;
    let found = statement.query_map([after], |row| Ok((row.get::<_, String>(0)?, row.get::<_, i64>(1)?)))?;
    for (attempt, at) in found.collect::<rusqlite::Result<Vec<_>>>()? {
        let json = serde_json::to_string(&Voided { attempt })
            .map_err(|e| rusqlite::Error::ToSqlConversionFailure(Box::new(e)))?;
        conn.execute("INSERT INTO event (at_ms, kind, json) VALUES (?1, ?2, ?3)", params![at, voids::KIND, json])?;
    }
    Ok(())
}
