//! The file's versions. Each step up is one SQL script in one transaction, so that a program killed half-way
//! leaves the file at the version before.

use rusqlite::{Connection, TransactionBehavior};

/// Step `n` (from 0) takes a file of version `n` to version `n + 1`. A step that has been given out to learners
/// is never changed again.
const STEPS: [&str; 5] = [
    include_str!("schema/001.sql"),
    include_str!("schema/002.sql"),
    include_str!("schema/003.sql"),
    include_str!("schema/004.sql"),
    include_str!("schema/005.sql"),
];

/// From this version on the search has a file of its own.
pub(super) const SEARCH_APART: u32 = 4;

/// The version that this program writes.
pub(super) const VERSION: u32 = STEPS.len() as u32;

/// `BEDP`: marks the file as one of this program's (`PRAGMA application_id`).
pub(super) const APPLICATION_ID: i32 = 0x4245_4450;

/// The file's version.
pub(super) fn version(conn: &Connection) -> rusqlite::Result<u32> {
    conn.query_row("PRAGMA user_version", [], |row| row.get(0))
}

/// Takes the file up to [`VERSION`], one transaction for each step.
pub(super) fn migrate(conn: &mut Connection) -> rusqlite::Result<()> {
    migrate_by(conn, &STEPS, APPLICATION_ID)
}

/// Takes a file up to the last of its `steps`, one transaction for each, and marks whose it is.
pub(super) fn migrate_by(conn: &mut Connection, steps: &[&str], application_id: i32) -> rusqlite::Result<()> {
    for (step, sql) in (0u32..).zip(steps).skip(version(conn)? as usize) {
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate)?;
        tx.execute_batch(sql)?;
        tx.pragma_update(None, "application_id", application_id)?;
        tx.pragma_update(None, "user_version", step + 1)?;
        tx.commit()?;
    }
    Ok(())
}

/// The tables that each version brought, with the version that took them out again.
const TABLES: [(&[&str], u32); 5] = [
    (&["meta", "settings", "attempt", "set_aside", "fault", "card_memory"], u32::MAX),
    (&["search_deck", "search_card", "search_word", "search_stem"], SEARCH_APART),
    (&["sitting", "sitting_turn", "sitting_end", "event"], u32::MAX),
    (&[], u32::MAX),
    (&["edition", "edition_card", "asked"], u32::MAX),
];

/// Whether a file has a table.
pub(super) fn has_table(conn: &Connection, table: &str) -> rusqlite::Result<bool> {
    let sql = "SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name = ?1";
    conn.query_row(sql, [table], |row| row.get::<_, u32>(0)).map(|found| found > 0)
}

/// A table that a file of this version ought to have and has not.
pub(super) fn missing_table(conn: &Connection, version: u32) -> rusqlite::Result<Option<&'static str>> {
    let there = TABLES.iter().take(version as usize).filter(|(_, until)| version < *until);
    for table in there.flat_map(|(tables, _)| *tables) {
        if !has_table(conn, table)? {
            return Ok(Some(table));
        }
    }
    Ok(None)
}
