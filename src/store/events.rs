//! Events of a profile: plans kept, memory parameters adopted, results of orals. Only ever added; the newest of a kind by
//! its time is what holds. (What was taken back is in `voids.rs`: there each event holds.)

use rusqlite::{OptionalExtension, Row, params};

use super::db::Db;
use super::error::StoreError;
use crate::domain::day::Instant;

/// An event as it is kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeptEvent {
    /// When.
    pub at: Instant,
    /// What it says, as JSON.
    pub json: String,
}

/// Adds an event of a kind (`plan`, `parameters`, `oral-result`, `worksheet`).
pub(super) fn add(db: &Db, kind: &str, event: &KeptEvent) -> Result<(), StoreError> {
    db.conn
        .execute("INSERT INTO event (at_ms, kind, json) VALUES (?1, ?2, ?3)", params![event.at.0, kind, event.json])
        .map_err(db.fail("keep the change"))?;
    Ok(())
}

/// The newest event of a kind.
pub(super) fn newest(db: &Db, kind: &str) -> Result<Option<KeptEvent>, StoreError> {
    db.conn
        .query_row("SELECT at_ms, json FROM event WHERE kind = ?1 ORDER BY at_ms DESC, json DESC LIMIT 1", [kind], read)
        .optional()
        .map_err(db.fail("read the profile's events"))
}

/// All events of a kind, in order of time.
pub(super) fn all(db: &Db, kind: &str) -> Result<Vec<KeptEvent>, StoreError> {
    let fail = db.fail("read the profile's events");
    let mut statement =
        db.conn.prepare("SELECT at_ms, json FROM event WHERE kind = ?1 ORDER BY at_ms, json").map_err(&fail)?;
    let mut rows = statement.query([kind]).map_err(&fail)?;
    let mut all = Vec::new();
    while let Some(row) = rows.next().map_err(&fail)? {
        match read(row) {
            Ok(event) => all.push(event),
            Err(_) => db.unread.other(format!("an event, {kind}, {}", all.len())),
        }
    }
    Ok(all)
}

fn read(row: &Row<'_>) -> rusqlite::Result<KeptEvent> {
    Ok(KeptEvent { at: Instant(row.get(0)?), json: row.get(1)? })
}
