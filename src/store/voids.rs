//! Attempts taken back. The attempt stays in the file for ever; an event names it, and from then on it counts for
//! nothing: no memory, no forecast, no report.

use std::collections::{BTreeMap, HashSet};

use rusqlite::{Connection, OptionalExtension, params};
use serde::{Deserialize, Serialize};

use super::error::StoreError;
use super::thread::Db;
use super::{attempts, memory};
use crate::domain::attempt::Attempt;
use crate::domain::day::Instant;
use crate::domain::ids::{AttemptId, CardKey};
use crate::domain::memory::CardMemory;

/// The kind of the event.
pub(super) const KIND: &str = "voided";

const DOING: &str = "take the answer back";

/// What the event says.
#[derive(Serialize, Deserialize)]
struct Voided {
    /// The attempt's id.
    attempt: String,
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

/// Takes attempts back and puts what `memory_of` makes of each card's remaining attempts in the memory cache, in one
/// transaction. One that was taken back already stays so.
pub(super) fn void(
    db: &mut Db,
    attempts: &[AttemptId],
    at: Instant,
    memory_of: &dyn Fn(&[Attempt]) -> Option<CardMemory>,
) -> Result<Vec<(CardKey, Option<CardMemory>)>, StoreError> {
    let file = db.file.clone();
    let fail = |e: rusqlite::Error| StoreError::from_sql(DOING, &file, &e);
    let tx = db.conn.transaction().map_err(fail)?;
    let mut gone = ids(&tx).map_err(fail)?;
    let mut cards: BTreeMap<String, CardKey> = BTreeMap::new();
    for AttemptId(id) in attempts {
        let card = tx
            .query_row("SELECT card FROM attempt WHERE id = ?1", [id], |row| row.get::<_, String>(0))
            .optional()
            .map_err(fail)?;
        let Some((text, card)) = card.and_then(|text| CardKey::parse(&text).map(|card| (text, card))) else {
            let what = format!("the taking back of the answer {id}");
            return Err(StoreError::Refused { what, why: "there is no such answer".to_owned() });
        };
        if gone.insert(id.clone()) {
            let json = serde_json::to_string(&Voided { attempt: id.clone() })
                .map_err(|e| fail(rusqlite::Error::ToSqlConversionFailure(Box::new(e))))?;
            tx.execute("INSERT INTO event (at_ms, kind, json) VALUES (?1, ?2, ?3)", params![at.0, KIND, json])
                .map_err(fail)?;
        }
        cards.insert(text, card);
    }
    let mut changed = Vec::new();
    for card in cards.into_values() {
        let left = attempts::left_of_card(&tx, &file, &card)?;
        let known = memory_of(&left);
        match &known {
            Some(known) => {
                memory::check(&card, known)?;
                memory::put(&tx, &card, known).map_err(fail)?;
            }
            None => memory::remove(&tx, &card).map_err(fail)?,
        }
        changed.push((card, known));
    }
    tx.commit().map_err(fail)?;
    Ok(changed)
}
