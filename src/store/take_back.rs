//! Taking attempts back: the event that names them, and the memory of their cards without them.

use std::collections::BTreeMap;

use rusqlite::{OptionalExtension, params};

use super::db::Db;
use super::error::StoreError;
use super::voids::{self, KIND, Voided};
use super::{attempts, memory};
use crate::domain::attempt::Attempt;
use crate::domain::day::Instant;
use crate::domain::ids::{AttemptId, CardKey};
use crate::domain::memory::CardMemory;

const DOING: &str = "take the answer back";

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
    let lineage = db.lineage.clone();
    let tx = db.conn.transaction().map_err(fail)?;
    let mut gone = voids::ids(&tx).map_err(fail)?;
    let mut cards: BTreeMap<String, CardKey> = BTreeMap::new();
    for AttemptId(id) in attempts {
        let card = tx
            .query_row("SELECT card FROM attempt WHERE id = ?1", [id], |row| row.get::<_, String>(0))
            .optional()
            .map_err(fail)?;
        let Some(card) = card.and_then(|text| CardKey::parse(&text)) else {
            let what = format!("the taking back of the answer {id}");
            return Err(StoreError::Refused { what, why: "there is no such answer".to_owned() });
        };
        if gone.insert(id.clone()) {
            let json = serde_json::to_string(&Voided { attempt: id.clone() })
                .map_err(|e| fail(rusqlite::Error::ToSqlConversionFailure(Box::new(e))))?;
            tx.execute("INSERT INTO event (at_ms, kind, json) VALUES (?1, ?2, ?3)", params![at.0, KIND, json])
                .map_err(fail)?;
        }
        let card = lineage.heir(card);
        cards.insert(card.to_string(), card);
    }
    let mut changed = Vec::new();
    for card in cards.into_values() {
        let left = attempts::left_of_card(&tx, &file, &lineage, &card)?;
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
