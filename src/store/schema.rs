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
    for step in version(conn)?..VERSION {
        let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate)?;
        tx.execute_batch(STEPS[step as usize])?;
        tx.pragma_update(None, "application_id", APPLICATION_ID)?;
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

/// A table that a file of this version ought to have and has not.
pub(super) fn missing_table(conn: &Connection, version: u32) -> rusqlite::Result<Option<&'static str>> {
    let there = TABLES.iter().take(version as usize).filter(|(_, until)| version < *until);
    for table in there.flat_map(|(tables, _)| *tables) {
        let sql = "SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name = ?1";
        let found: u32 = conn.query_row(sql, [table], |row| row.get(0))?;
        if found == 0 {
            return Ok(Some(table));
        }
    }
    Ok(None)
}
