//! Turns of a sitting that went on in two ways. One and the same sitting may be taken up on two computers; the turns that
//! a file was the first to hold stand in its table, those of the other computer in an event. Which of them are the
//! sitting's is decided when they are read, from the turns alone, so that every computer decides alike: the longer ones,
//! and of two equally long those whose text comes later.

use std::collections::HashMap;

use rusqlite::{Connection, params};
use serde::{Deserialize, Serialize};

/// The kind of the event.
pub(super) const KIND: &str = "sitting-turns";

/// What the event says.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Turns {
    /// The sitting's id.
    pub(super) sitting: String,
    /// The turns, each as JSON.
    pub(super) turns: Vec<String>,
}

/// The turns in the table of a sitting, as JSON.
pub(super) fn in_table(conn: &Connection, sitting: &str) -> rusqlite::Result<Vec<String>> {
    let mut statement = conn.prepare_cached("SELECT turn FROM sitting_turn WHERE sitting = ?1 ORDER BY n")?;
    let mut rows = statement.query([sitting])?;
    let mut all = Vec::new();
    while let Some(row) = rows.next()? {
        all.push(String::from_utf8_lossy(row.get_ref(0)?.as_bytes().unwrap_or_default()).into_owned());
    }
    Ok(all)
}

/// The other turns of all sittings, by the sittings' ids. An event that makes no sense says nothing.
pub(super) fn others(conn: &Connection) -> rusqlite::Result<HashMap<String, Vec<Vec<String>>>> {
    let mut statement = conn.prepare_cached("SELECT json FROM event WHERE kind = ?1")?;
    let mut rows = statement.query([KIND])?;
    let mut all: HashMap<String, Vec<Vec<String>>> = HashMap::new();
    while let Some(row) = rows.next()? {
        let text = row.get_ref(0)?.as_str().unwrap_or_default();
        if let Ok(Turns { sitting, turns }) = serde_json::from_str(text) {
            all.entry(sitting).or_default().push(turns);
        }
    }
    Ok(all)
}

/// The turns that are the sitting's.
pub(super) fn decided(table: Vec<String>, others: Option<Vec<Vec<String>>>) -> Vec<String> {
    let others = others.unwrap_or_default().into_iter();
    let longest = others.max_by(|a, b| (a.len(), a).cmp(&(b.len(), b)));
    longest.filter(|other| (other.len(), other) > (table.len(), &table)).unwrap_or(table)
}

/// The turns that are the sitting's, and whether they stand in its table.
pub(super) fn of_sitting(conn: &Connection, sitting: &str) -> rusqlite::Result<(Vec<String>, bool)> {
    let table = in_table(conn, sitting)?;
    let decided = decided(table.clone(), others(conn)?.remove(sitting));
    let is_table = decided == table;
    Ok((decided, is_table))
}

/// Keeps turns that do not fit those in the table. The event's time is the sitting's own, so that the same turns make the
/// same event on every computer; whether it was new.
pub(super) fn add(conn: &Connection, sitting: &str, turns: Vec<String>) -> rusqlite::Result<bool> {
    let json = serde_json::to_string(&Turns { sitting: sitting.to_owned(), turns })
        .map_err(|e| rusqlite::Error::ToSqlConversionFailure(Box::new(e)))?;
    let added = conn.execute(
        "INSERT INTO event (at_ms, kind, json) SELECT at_ms, ?2, ?3 FROM sitting WHERE id = ?1
         AND NOT EXISTS (SELECT 1 FROM event WHERE kind = ?2 AND json = ?3)",
        params![sitting, KIND, json],
    )?;
    Ok(added > 0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn turns(text: &str) -> Vec<String> {
        text.split_whitespace().map(str::to_owned).collect()
    }

    #[test]
    fn the_longer_turns_are_the_sittings_and_of_two_alike_the_later_text() {
        let decide = |table: &str, others: &[&str]| {
            let others = others.iter().map(|text| turns(text)).collect();
            decided(turns(table), Some(others)).join(" ")
        };
        assert_eq!(decided(turns("a b"), None), turns("a b"));
        assert_eq!(decide("a b", &["a"]), "a b");
        assert_eq!(decide("a b", &["a c d", "a z"]), "a c d");
        assert_eq!(decide("a c d", &["a b", "a z"]), "a c d");
        assert_eq!(decide("a b", &["a c"]), "a c");
        assert_eq!(decide("a c", &["a b"]), "a c");
    }
}
