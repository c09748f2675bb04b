//! A connection to a profile's file for reading and writing, so that what is committed lasts.

use std::path::Path;

use rusqlite::Connection;

use super::error::StoreError;
use super::health;
use super::journal::{self, Journal};

/// Opens the file.
pub(super) fn connect(file: &Path, journal: Journal, doing: &str) -> Result<Connection, StoreError> {
    let sql = |e: rusqlite::Error| StoreError::from_sql(doing, file, &e);
    let conn = health::open_to_write(file).map_err(sql)?;
    if conn.is_readonly(rusqlite::MAIN_DB).map_err(sql)? {
        let why = "the file is write-protected".to_owned();
        return Err(StoreError::NotWritable { doing: doing.to_owned(), place: file.to_owned(), why });
    }
    journal::make_lasting(&conn, journal).map_err(sql)?;
    conn.pragma_update(None, "foreign_keys", true).map_err(sql)?;
    conn.set_prepared_statement_cache_capacity(32);
    Ok(conn)
}
