//! Who a profile's learner is, beside the name: ids that no two learners share. A profile begins with one. Where the
//! answers of two ids have been brought together, the profile has both from then on, so that what came of it is the same
//! on every computer.

use std::collections::BTreeSet;

use rusqlite::{Connection, OptionalExtension, params};

use super::ids;

/// The name in `meta` of the ids, with spaces between them.
const IDS: &str = "learner-ids";
/// The name in `meta` that says that another profile has been brought in.
const JOINED: &str = "brought-in";

/// The ids, in order; none in a file that an earlier version made.
pub(super) fn all(conn: &Connection) -> rusqlite::Result<BTreeSet<String>> {
    let text: Option<String> =
        conn.query_row("SELECT value FROM meta WHERE name = ?1", [IDS], |row| row.get(0)).optional()?;
    Ok(text.unwrap_or_default().split_whitespace().map(str::to_owned).collect())
}

/// Gives the learner an id where there is none.
pub(super) fn ensure(conn: &Connection) -> rusqlite::Result<()> {
    if all(conn)?.is_empty() { keep(conn, &BTreeSet::from([ids::new_learner()])) } else { Ok(()) }
}

/// Keeps these ids as the learner's.
pub(super) fn keep(conn: &Connection, ids: &BTreeSet<String>) -> rusqlite::Result<()> {
    put(conn, IDS, &ids.iter().map(String::as_str).collect::<Vec<_>>().join(" "))
}

/// Whether another profile has been brought in before.
pub(super) fn has_joined(conn: &Connection) -> rusqlite::Result<bool> {
    conn.prepare("SELECT 1 FROM meta WHERE name = ?1")?.exists([JOINED])
}

/// Keeps that another profile has been brought in.
pub(super) fn note_joined(conn: &Connection) -> rusqlite::Result<()> {
    put(conn, JOINED, "yes")
}

fn put(conn: &Connection, name: &str, value: &str) -> rusqlite::Result<()> {
    conn.execute(
        "INSERT INTO meta (name, value) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE SET value = excluded.value",
        params![name, value],
    )
    .map(|_| ())
}

/// Whether a text can be such an id.
pub(super) fn is_one(text: &str) -> bool {
    let rest = text.strip_prefix("learner-").unwrap_or_default();
    rest.len() == 15 && rest.bytes().all(|b| b.is_ascii_digit() || (b'a'..=b'f').contains(&b))
}
