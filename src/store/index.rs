//! The file of the search index, beside the profile's. It holds nothing of its own: where it is missing, damaged or of
//! another version it is thrown away and made anew, without a word to the learner.

use std::path::Path;

use rusqlite::Connection;

use super::error::StoreError;
use super::journal::{self, Journal};
use super::{files, health};

/// Goes up when the tables or what is in them change, so that all decks are read in anew.
const VERSION: u32 = 1;
const TABLES: &str = include_str!("schema/search.sql");
const DOING: &str = "make the decks ready for search";

/// The index, opened when it is first asked for.
#[derive(Default)]
pub(super) struct Index {
    conn: Option<Connection>,
    journal: Journal,
}

impl Index {
    /// Does the work on the index in the folder `dir`. Where the index turns out to be of no use it is made anew,
    /// empty, and the answer is [`StoreError::SearchLost`].
    pub(super) fn on<T>(
        &mut self,
        dir: &Path,
        doing: &str,
        work: impl FnOnce(&mut Connection) -> rusqlite::Result<T>,
    ) -> Result<T, StoreError> {
        let file = files::search(dir);
        if self.conn.is_none() {
            let journal = self.journal;
            self.conn = Some(opened(&file, journal).or_else(|error| anew_after(&file, journal, &error))?);
        }
        let Some(conn) = &mut self.conn else { return Err(StoreError::SearchLost) };
        work(conn).map_err(|error| match told(doing, &file, &error) {
            Some(other) => other,
            None => {
                self.conn = None;
                StoreError::SearchLost
            }
        })
    }

    /// Has the index's file written so from now on.
    pub(super) fn set_journal(&mut self, journal: Journal) {
        self.journal = journal;
    }

    /// Throws the index away and makes an empty one.
    pub(super) fn anew(&mut self, dir: &Path) -> Result<(), StoreError> {
        self.conn = None;
        self.conn = Some(anew(&files::search(dir), self.journal)?);
        Ok(())
    }
}

/// What SQLite says where it is the disk's fault or another program's; none where the index itself is at fault.
fn told(doing: &str, file: &Path, error: &rusqlite::Error) -> Option<StoreError> {
    match StoreError::from_sql(doing, file, error) {
        StoreError::Damaged { .. } | StoreError::Io { .. } => None,
        other => Some(other),
    }
}

fn anew_after(file: &Path, journal: Journal, error: &rusqlite::Error) -> Result<Connection, StoreError> {
    match told(DOING, file, error) {
        Some(other) => Err(other),
        None => anew(file, journal),
    }
}

fn anew(file: &Path, journal: Journal) -> Result<Connection, StoreError> {
    files::remove_with_logs(file).map_err(|e| StoreError::from_io(DOING, file, &e))?;
    opened(file, journal).map_err(|e| StoreError::from_sql(DOING, file, &e))
}

fn opened(file: &Path, journal: Journal) -> rusqlite::Result<Connection> {
    let mut conn = health::open_to_write(file)?;
    journal::make_lasting(&conn, journal)?;
    // A killed program leaves a whole index; a power cut at worst one to be made anew.
    conn.pragma_update(None, "synchronous", "NORMAL")?;
    conn.pragma_update(None, "foreign_keys", true)?;
    match conn.query_row("PRAGMA user_version", [], |row| row.get::<_, u32>(0))? {
        VERSION => {}
        0 => {
            let tx = conn.transaction()?;
            tx.execute_batch(TABLES)?;
            tx.pragma_update(None, "user_version", VERSION)?;
            tx.commit()?;
        }
        _ => {
            let other = rusqlite::ffi::Error::new(rusqlite::ffi::SQLITE_NOTADB);
            return Err(rusqlite::Error::SqliteFailure(other, Some("of another version".to_owned())));
        }
    }
    Ok(conn)
}
