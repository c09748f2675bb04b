//! Attempts taken back. The attempt stays in the file for ever; an event names it, and from then on it counts for
//! nothing: no memory, no forecast, no report.

use std::collections::HashSet;

use rusqlite::Connection;
use serde::{Deserialize, Serialize};

/// The kind of the event.
pub(super) const KIND: &str = "voided";

/// What the event says.
#[derive(Serialize, Deserialize)]
pub(super) struct Voided {
    /// The attempt's id.
    pub(super) attempt: String,
}

/// The ids of the attempts that were taken back. An event that cannot be read takes nothing back.
pub(super) fn ids(conn: &Connection) -> rusqlite::Result<HashSet<String>> {
    let mut statement = conn.prepare_cached("SELECT json FROM event WHERE kind = ?1")?;
    let mut rows = statement.query([KIND])?;
    let mut all = HashSet::new();
    while let Some(row) = rows.next()? {
        let text = row.get_ref(0)?.as_str().unwrap_or_default();
        if let Ok(Voided { attempt }) = serde_json::from_str(text) {
            all.insert(attempt);
        }
    }
    Ok(all)
}

/// How many attempts in the file were taken back.
pub(super) fn count(conn: &Connection) -> rusqlite::Result<u64> {
    let mut count = 0;
    for id in ids(conn)? {
        let mut statement = conn.prepare_cached("SELECT 1 FROM attempt WHERE id = ?1")?;
        count += u64::from(statement.exists([id])?);
    }
    Ok(count)
}
