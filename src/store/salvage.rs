//! What can still be read of a file, damaged or not, and its union with a profile: attempts, sittings and events by
//! what they are, each once. Nothing is written to the file that is read.

use std::collections::BTreeMap;
use std::path::Path;

use rusqlite::types::Value;
use rusqlite::{Connection, Transaction, params_from_iter};

use super::error::StoreError;
use super::{health, kept, memory};
use crate::domain::settings::Settings;

/// A table that is only ever added to: its columns, and those that tell one row from another.
struct Table {
    name: &'static str,
    columns: &'static [&'static str],
    same: &'static [&'static str],
    /// Without row numbers: read by these keys.
    keyed: bool,
}

/// In the order in which rows may refer to one another.
const TABLES: [Table; 10] = [
    Table {
        name: "attempt",
        columns: &["id", "card", "at_ms", "ship_minutes", "device", "evidence", "outcome", "notch", "seconds"],
        same: &["id"],
        keyed: false,
    },
    Table { name: "set_aside", columns: SET_ASIDE, same: SET_ASIDE, keyed: false },
    Table { name: "fault", columns: FAULT, same: FAULT, keyed: false },
    Table { name: "event", columns: EVENT, same: EVENT, keyed: false },
    Table {
        name: "sitting",
        columns: &["id", "at_ms", "ship_minutes", "device", "setup"],
        same: &["id"],
        keyed: false,
    },
    Table { name: "sitting_turn", columns: &["sitting", "n", "turn"], same: &["sitting", "n"], keyed: true },
    Table { name: "sitting_end", columns: &["sitting", "at_ms"], same: &["sitting"], keyed: true },
    Table { name: "edition", columns: &["deck", "number", "at_ms"], same: &["deck", "at_ms"], keyed: false },
    Table {
        name: "edition_card",
        columns: &["card", "at_ms", "digest", "was"],
        same: &["card", "at_ms"],
        keyed: false,
    },
    Table { name: "asked", columns: &["digest", "json"], same: &["digest"], keyed: false },
];

const SET_ASIDE: &[&str] = &["card", "at_ms", "until", "day"];
const FAULT: &[&str] = &["card", "at_ms", "note"];
const EVENT: &[&str] = &["at_ms", "kind", "json"];

/// More turns than any sitting has.
const MOST_TURNS: i64 = 500;
/// A damaged file is asked for at most so many row numbers beyond those that were seen.
const MOST_ROWS: i64 = 5_000_000;
/// The smallest attempt takes more bytes than this.
const SMALLEST_ROW: u64 = 64;

type Row = Vec<Value>;

/// Brings all that can be read of `from` into the file behind `conn`, in one transaction; how many attempts were new.
/// `settings` takes its settings too, where they make sense. A file that tells nothing at all adds nothing.
pub(super) fn unite(conn: &mut Connection, file: &Path, from: &Path, settings: bool) -> Result<u64, StoreError> {
    let fail = |e: rusqlite::Error| StoreError::from_sql("take in what could be read", file, &e);
    let Ok(source) = health::open_to_read(from) else { return Ok(0) };
    // A part of the schema that makes no sense must not hide the rest. The file is open for reading only.
    let _ = source.pragma_update(None, "writable_schema", true);
    let bytes = std::fs::metadata(from).map_or(0, |meta| meta.len());
    let tx = conn.transaction().map_err(fail)?;
    let mut new = 0;
    for table in &TABLES {
        let rows = if table.keyed { keyed_rows(&source, table) } else { numbered_rows(&source, table, bytes) };
        let added = add(&tx, table, rows).map_err(fail)?;
        if table.name == "attempt" {
            new = added;
        }
    }
    if settings {
        take_settings(&tx, &source).map_err(fail)?;
    }
    // Whatever was added: what was worked out of the answers is worked out again.
    memory::forget_stamp(&tx).map_err(fail)?;
    tx.commit().map_err(fail)?;
    Ok(new)
}

/// Adds rows that are not there yet. One that the table does not take is no row of ours and stays where it was.
fn add(tx: &Transaction<'_>, table: &Table, rows: Vec<Row>) -> rusqlite::Result<u64> {
    let columns = table.columns.join(", ");
    let marks: Vec<String> = (1..=table.columns.len()).map(|n| format!("?{n}")).collect();
    let place = |name: &str| table.columns.iter().position(|c| *c == name).map_or(0, |at| at + 1);
    let same: Vec<String> = table.same.iter().map(|name| format!("{name} IS ?{}", place(name))).collect();
    let mut statement = tx.prepare(&format!(
        "INSERT INTO {name} ({columns}) SELECT {marks}
         WHERE NOT EXISTS (SELECT 1 FROM {name} WHERE {same})",
        name = table.name,
        marks = marks.join(", "),
        same = same.join(" AND ")
    ))?;
    let mut added = 0;
    for row in rows {
        match statement.execute(params_from_iter(row)) {
            Ok(changed) => added += changed as u64,
            Err(error) if error.sqlite_error_code() == Some(rusqlite::ErrorCode::ConstraintViolation) => {}
            Err(error) => return Err(error),
        }
    }
    Ok(added)
}

/// Rows by their numbers. First straight through, from both ends; then, where that breaks off, number by number, since
/// each look by number stands or falls alone.
fn numbered_rows(source: &Connection, table: &Table, bytes: u64) -> Vec<Row> {
    let columns = table.columns.join(", ");
    let mut found: BTreeMap<i64, Row> = BTreeMap::new();
    let mut whole = true;
    for order in ["ASC", "DESC"] {
        let sql = format!("SELECT {columns}, rowid FROM {} ORDER BY rowid {order}", table.name);
        whole &= through(source, &sql, table.columns.len() + 1, |mut row| {
            if let Some(Value::Integer(number)) = row.pop() {
                found.insert(number, row);
            }
        });
        if whole {
            return found.into_values().collect();
        }
    }
    let sql = format!("SELECT {columns} FROM {} WHERE rowid = ?1", table.name);
    let Ok(mut statement) = source.prepare(&sql) else { return found.into_values().collect() };
    let seen = found.last_key_value().map_or(0, |(last, _)| *last);
    let beyond = i64::try_from(bytes / SMALLEST_ROW).unwrap_or(MOST_ROWS).min(MOST_ROWS);
    for number in 1..=seen.max(beyond) {
        if !found.contains_key(&number)
            && let Ok(row) = statement.query_row([number], |row| values(row, table.columns.len()))
        {
            found.insert(number, row);
        }
    }
    found.into_values().collect()
}

/// Rows of a table without numbers: straight through, then by the keys of the sittings.
fn keyed_rows(source: &Connection, table: &Table) -> Vec<Row> {
    let (columns, count) = (table.columns.join(", "), table.columns.len());
    let mut found = Vec::new();
    if through(source, &format!("SELECT {columns} FROM {}", table.name), count, |row| found.push(row)) {
        return found;
    }
    let mut sittings = Vec::new();
    through(source, "SELECT id FROM sitting ORDER BY rowid", 1, |row| sittings.extend(row));
    through(source, "SELECT id FROM sitting ORDER BY rowid DESC", 1, |row| sittings.extend(row));
    let by_number = table.same.len() > 1;
    let sql = format!(
        "SELECT {columns} FROM {} WHERE sitting = ?1{}",
        table.name,
        if by_number { " AND n = ?2" } else { "" }
    );
    let Ok(mut statement) = source.prepare(&sql) else { return found };
    for sitting in sittings {
        for n in 0..if by_number { MOST_TURNS } else { 1 } {
            let keys = [sitting.clone(), Value::Integer(n)];
            let keys = &keys[..table.same.len()];
            if let Ok(row) = statement.query_row(params_from_iter(keys), |row| values(row, count)) {
                found.push(row);
            }
        }
    }
    found
}

/// Goes through a query's rows, passing over those with text that is no text; whether it came to the end.
fn through(source: &Connection, sql: &str, columns: usize, mut visit: impl FnMut(Row)) -> bool {
    let Ok(mut statement) = source.prepare(sql) else { return false };
    let Ok(mut rows) = statement.query([]) else { return false };
    loop {
        match rows.next() {
            Ok(Some(row)) => {
                if let Ok(row) = values(row, columns) {
                    visit(row);
                }
            }
            Ok(None) => return true,
            Err(_) => return false,
        }
    }
}

fn values(row: &rusqlite::Row<'_>, columns: usize) -> rusqlite::Result<Row> {
    (0..columns).map(|n| row.get(n)).collect()
}

fn take_settings(tx: &Transaction<'_>, source: &Connection) -> rusqlite::Result<()> {
    let json = source.query_row("SELECT json FROM settings WHERE one = 1", [], |row| row.get::<_, String>(0));
    if let Ok(json) = json
        && serde_json::from_str::<Settings>(&json).is_ok()
    {
        kept::put_settings(tx, &json, kept::settings_at(source).unwrap_or(0))?;
    }
    Ok(())
}
