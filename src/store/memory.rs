//! The memory cache: one row per card, worked out elsewhere from the attempts, with a stamp that says by what.

use rusqlite::{Connection, OptionalExtension, Row, Transaction, params};

use super::db::Db;
use super::error::StoreError;
use crate::domain::day::{Instant, StudyDay};
use crate::domain::ids::{CardKey, is_id};
use crate::domain::memory::CardMemory;
use crate::domain::outcome::Outcome;

/// One row per card.
pub(super) type Cache = Vec<(CardKey, CardMemory)>;

const KEEP: &str = "keep what was worked out of the answers";
const READ: &str = "read what was worked out of the answers";
const STAMP: &str = "memory-stamp";

/// Puts the whole cache in place of the old one.
pub(super) fn replace(db: &mut Db, stamp: &str, all: &[(CardKey, CardMemory)]) -> Result<(), StoreError> {
    all.iter().try_for_each(|(card, known)| check(card, known))?;
    let file = db.file.clone();
    let fail = |e: rusqlite::Error| StoreError::from_sql(KEEP, &file, &e);
    let tx = db.conn.transaction().map_err(fail)?;
    tx.execute("DELETE FROM card_memory", []).map_err(fail)?;
    for (card, known) in all {
        put(&tx, card, known).map_err(fail)?;
    }
    tx.execute(
        "INSERT INTO meta (name, value) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE SET value = excluded.value",
        params![STAMP, stamp],
    )
    .map_err(fail)?;
    tx.commit().map_err(fail)
}

/// The whole cache with its stamp; no stamp where it has to be rebuilt.
pub(super) fn load(db: &Db) -> Result<(Option<String>, Cache), StoreError> {
    let stamp = stamp(&db.conn).map_err(db.fail(READ))?;
    let mut statement = db
        .conn
        .prepare(
            "SELECT card, stability, difficulty, last_day, last_at_ms, due, seen, slips, misses_in_a_row, last,
             seconds_total FROM card_memory ORDER BY card",
        )
        .map_err(db.fail(READ))?;
    let mut rows = statement.query([]).map_err(db.fail(READ))?;
    let mut all = Vec::new();
    while let Some(row) = rows.next().map_err(db.fail(READ))? {
        match read(row) {
            Ok(Some(one)) => all.push(one),
            // A row that makes no sense: the cache is of no use, and can be rebuilt.
            Ok(None) | Err(_) => return Ok((None, Vec::new())),
        }
    }
    Ok((stamp, all))
}

/// Writes one card's row.
pub(super) fn put(tx: &Transaction<'_>, card: &CardKey, m: &CardMemory) -> rusqlite::Result<()> {
    tx.prepare_cached(
        "INSERT OR REPLACE INTO card_memory (card, stability, difficulty, last_day, last_at_ms, due, seen, slips,
         misses_in_a_row, last, seconds_total) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)",
    )?
    .execute(params![
        card.to_string(),
        m.stability,
        m.difficulty,
        m.last_day.0,
        m.last_at.0,
        m.due.0,
        m.seen,
        m.slips,
        m.misses_in_a_row,
        m.last.number(),
        m.seconds_total
    ])?;
    Ok(())
}

/// Takes one card's row out.
pub(super) fn remove(tx: &Transaction<'_>, card: &CardKey) -> rusqlite::Result<()> {
    tx.execute("DELETE FROM card_memory WHERE card = ?1", [card.to_string()]).map(|_| ())
}

/// Whether the row may be kept.
pub(super) fn check(card: &CardKey, m: &CardMemory) -> Result<(), StoreError> {
    let numbers = m.stability.is_finite() && m.difficulty.is_finite() && m.seconds_total.is_finite();
    if numbers && is_id(&card.deck.0) && is_id(&card.card) {
        return Ok(());
    }
    let why = "its stability, difficulty and seconds must be numbers and its key a card key".to_owned();
    Err(StoreError::Refused { what: format!("what was worked out for {card}"), why })
}

/// The cache fits the attempts no longer.
pub(super) fn forget_stamp(tx: &Transaction<'_>) -> rusqlite::Result<()> {
    tx.execute("DELETE FROM meta WHERE name = ?1", [STAMP]).map(|_| ())
}

fn stamp(conn: &Connection) -> rusqlite::Result<Option<String>> {
    conn.query_row("SELECT value FROM meta WHERE name = ?1", [STAMP], |row| row.get(0)).optional()
}

fn read(row: &Row<'_>) -> rusqlite::Result<Option<(CardKey, CardMemory)>> {
    let card: String = row.get(0)?;
    let last: u32 = row.get(9)?;
    let (Some(card), Some(last)) = (CardKey::parse(&card), Outcome::from_number(last)) else { return Ok(None) };
    let known = CardMemory {
        stability: row.get(1)?,
        difficulty: row.get(2)?,
        last_day: StudyDay(row.get(3)?),
        last_at: Instant(row.get(4)?),
        due: StudyDay(row.get(5)?),
        seen: row.get(6)?,
        slips: row.get(7)?,
        misses_in_a_row: row.get(8)?,
        last,
        seconds_total: row.get(10)?,
    };
    Ok(Some((card, known)))
}
