//! Editions of decks that were taken in, and what their cards asked. Only ever added to.

use std::collections::BTreeMap;

use rusqlite::{OptionalExtension, Row, params};
use serde::{Deserialize, Serialize};

use super::db::Db;
use super::error::StoreError;
use super::events::{self, KeptEvent};
use crate::domain::day::Instant;
use crate::domain::editions::{Asked, Entry, Ledger, TakenIn, Taking};
use crate::domain::ids::{CardKey, DeckId, is_id};

const READ: &str = "read which editions were taken in";
const KEEP: &str = "keep which edition was taken in";

/// Keeps what was new, in one transaction. What is there already stays as it is.
pub(super) fn keep(db: &mut Db, all: &[TakenIn]) -> Result<(), StoreError> {
    let file = db.file.clone();
    let fail = |e: rusqlite::Error| StoreError::from_sql(KEEP, &file, &e);
    let refuse = |e: serde_json::Error| StoreError::Refused { what: "an edition".to_owned(), why: e.to_string() };
    let tx = db.conn.transaction().map_err(fail)?;
    for taken in all {
        if let Some(Taking { deck, number, at }) = &taken.taking {
            tx.prepare_cached("INSERT OR IGNORE INTO edition (deck, number, at_ms) VALUES (?1, ?2, ?3)")
                .and_then(|mut insert| insert.execute(params![deck.0, number, at.0]))
                .map_err(fail)?;
        }
        for entry in &taken.entries {
            let was = serde_json::to_string(&entry.was).map_err(refuse)?;
            tx.prepare_cached("INSERT OR IGNORE INTO edition_card (card, at_ms, digest, was) VALUES (?1, ?2, ?3, ?4)")
                .and_then(|mut insert| insert.execute(params![entry.card.to_string(), entry.at.0, entry.digest, was]))
                .map_err(fail)?;
        }
        for (digest, asked) in &taken.asked {
            let text = serde_json::to_string(asked).map_err(refuse)?;
            tx.prepare_cached("INSERT OR IGNORE INTO asked (digest, json) VALUES (?1, ?2)")
                .and_then(|mut insert| insert.execute(params![digest, text]))
                .map_err(fail)?;
        }
    }
    tx.commit().map_err(fail)
}

/// The kind of the event that an edition's sheet has been looked at.
const SEEN: &str = "edition-seen";

/// What the event says.
#[derive(Serialize, Deserialize)]
struct Seen {
    deck: DeckId,
    /// When the edition was taken in.
    taken: Instant,
}

/// Keeps that what an edition brought has been looked at.
pub(super) fn keep_seen(db: &Db, taking: &Taking, at: Instant) -> Result<(), StoreError> {
    let seen = Seen { deck: taking.deck.clone(), taken: taking.at };
    let json = serde_json::to_string(&seen)
        .map_err(|e| StoreError::Refused { what: "an edition".to_owned(), why: e.to_string() })?;
    events::add(db, SEEN, &KeptEvent { at, json })
}

/// The editions whose sheets have been looked at: their decks, and when they were taken in.
pub(super) fn seen(db: &Db) -> Result<Vec<(DeckId, Instant)>, StoreError> {
    let seen = events::all(db, SEEN)?.into_iter().filter_map(|event| serde_json::from_str::<Seen>(&event.json).ok());
    Ok(seen.map(|seen| (seen.deck, seen.taken)).collect())
}

/// Everything that was taken in.
pub(super) fn ledger(db: &Db) -> Result<Ledger, StoreError> {
    let fail = db.fail(READ);
    let mut statement =
        db.conn.prepare("SELECT deck, number, at_ms FROM edition ORDER BY at_ms, deck").map_err(&fail)?;
    let mut rows = statement.query([]).map_err(&fail)?;
    let mut takings = Vec::new();
    while let Some(row) = rows.next().map_err(&fail)? {
        match read_taking(row) {
            Ok(Some(taking)) => takings.push(taking),
            Ok(None) | Err(_) => db.unread.other(format!("an edition, {}", takings.len())),
        }
    }
    let mut statement =
        db.conn.prepare("SELECT card, at_ms, digest, was FROM edition_card ORDER BY at_ms, card").map_err(&fail)?;
    let mut rows = statement.query([]).map_err(&fail)?;
    let mut entries = Vec::new();
    while let Some(row) = rows.next().map_err(&fail)? {
        match read_entry(row) {
            Ok(Some(entry)) => entries.push(entry),
            Ok(None) | Err(_) => db.unread.other(format!("a card of an edition, {}", entries.len())),
        }
    }
    Ok(Ledger::of(takings, entries))
}

fn read_taking(row: &Row<'_>) -> rusqlite::Result<Option<Taking>> {
    let deck: String = row.get(0)?;
    let (number, at) = (row.get(1)?, Instant(row.get(2)?));
    Ok(is_id(&deck).then_some(Taking { deck: DeckId(deck), number, at }))
}

fn read_entry(row: &Row<'_>) -> rusqlite::Result<Option<Entry>> {
    let (card, at, digest, was): (String, i64, Option<String>, String) =
        (row.get(0)?, row.get(1)?, row.get(2)?, row.get(3)?);
    let was: Option<Vec<CardKey>> = serde_json::from_str(&was).ok();
    Ok(CardKey::parse(&card).zip(was).map(|(card, was)| Entry { card, at: Instant(at), digest, was }))
}

/// What was asked, by its digests; those that are not kept or cannot be read are left out.
pub(super) fn asked(db: &Db, digests: &[String]) -> Result<BTreeMap<String, Asked>, StoreError> {
    let fail = db.fail(READ);
    let mut statement = db.conn.prepare_cached("SELECT json FROM asked WHERE digest = ?1").map_err(&fail)?;
    let mut all = BTreeMap::new();
    for digest in digests {
        let json: Option<Option<String>> =
            statement.query_row([digest], |row| Ok(row.get::<_, String>(0).ok())).optional().map_err(&fail)?;
        if let Some(asked) = json.flatten().and_then(|json| serde_json::from_str(&json).ok()) {
            all.insert(digest.clone(), asked);
        }
    }
    Ok(all)
}
