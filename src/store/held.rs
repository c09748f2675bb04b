//! What a profile's file is known to hold, in short: enough to tell whether another look at it finds all of that again.

use rusqlite::{Connection, OptionalExtension};

/// The name in `meta` of the time at which a profile was made, in milliseconds.
pub(super) const CREATED: &str = "created-ms";
/// The name in `meta` of what attempts made here are marked with.
pub(super) const DEVICE: &str = "device";

/// What a file is known to hold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Held {
    pub(super) made: String,
    /// The row and the id of the attempt that came last.
    pub(super) last: Option<(i64, String)>,
    pub(super) rows: Vec<i64>,
}

/// Reads it from a file.
pub(super) fn held(conn: &Connection) -> rusqlite::Result<Held> {
    let sql = "SELECT group_concat(value, ' ') FROM (SELECT value FROM meta WHERE name IN (?1, ?2) ORDER BY name)";
    let made: Option<String> = conn.prepare_cached(sql)?.query_row([CREATED, DEVICE], |row| row.get(0))?;
    let last = "SELECT rowid, id FROM attempt ORDER BY rowid DESC LIMIT 1";
    let last = conn.prepare_cached(last)?.query_row([], |row| Ok((row.get(0)?, row.get(1)?))).optional()?;
    let mut rows = Vec::new();
    for sql in [
        "SELECT coalesce(max(nr), 0) FROM set_aside",
        "SELECT coalesce(max(nr), 0) FROM fault",
        "SELECT coalesce(max(nr), 0) FROM event",
        "SELECT coalesce(max(rowid), 0) FROM sitting",
        "SELECT count(*) FROM sitting_turn",
        "SELECT count(*) FROM sitting_end",
    ] {
        rows.push(conn.prepare_cached(sql)?.query_row([], |row| row.get(0))?);
    }
    Ok(Held { made: made.unwrap_or_default(), last, rows })
}
