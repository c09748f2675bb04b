//! Sittings of mock orals: kept turn by turn, so that a killed program loses nothing that was accepted.

use rusqlite::types::Type;
use rusqlite::{Row, params};
use serde::{Deserialize, Serialize};

use super::db::Db;
use super::error::StoreError;
use super::events::{self, KeptEvent};
use super::{attempts, chains, memory};
use crate::domain::attempt::Attempt;
use crate::domain::day::{Instant, ShipOffset};
use crate::domain::memory::CardMemory;
use crate::domain::oral::{Setup, Sitting, Turn};

/// A sitting as it is kept.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptSitting {
    /// Ordered by time and unique across machines.
    pub id: String,
    /// When it began.
    pub at: Instant,
    /// Ship's time then.
    pub ship: ShipOffset,
    /// The computer it was sat on.
    pub device: String,
    /// The setup of the sitting and the turns so far.
    pub sitting: Sitting,
    /// When it ended, after its last question or by hand; none while it is being sat or was left for later.
    pub ended: Option<Instant>,
    /// The sitting was ended by hand, before its last question.
    pub early: bool,
}

/// Kinds of event: a sitting was ended by hand, and was taken up again. The newest of a sitting is what holds.
pub(super) const ENDED_EARLY: &str = "sitting-ended-early";
pub(super) const TAKEN_UP: &str = "sitting-taken-up";

/// What such an event says.
#[derive(Serialize, Deserialize)]
pub(super) struct OfSitting {
    /// Its id.
    pub(super) sitting: String,
}

const KEEP: &str = "keep the sitting";
const READ: &str = "read the sittings";

/// Keeps a sitting with the turns that it has. One that is there already changes nothing.
pub(super) fn begin(db: &mut Db, kept: &KeptSitting) -> Result<(), StoreError> {
    let setup = json(&kept.sitting.setup)?;
    let turns = kept.sitting.turns.iter().map(json).collect::<Result<Vec<String>, StoreError>>()?;
    let file = db.file.clone();
    let fail = |e: rusqlite::Error| StoreError::from_sql(KEEP, &file, &e);
    let tx = db.conn.transaction().map_err(fail)?;
    tx.execute(
        "INSERT INTO sitting (id, at_ms, ship_minutes, device, setup) VALUES (?1, ?2, ?3, ?4, ?5)
         ON CONFLICT (id) DO NOTHING",
        params![kept.id, kept.at.0, kept.ship.minutes(), kept.device, setup],
    )
    .map_err(fail)?;
    for (n, turn) in turns.iter().enumerate() {
        put_turn(&tx, &kept.id, n, turn).map_err(fail)?;
    }
    if let Some(ended) = kept.ended.filter(|_| !kept.early) {
        put_end(&tx, &kept.id, ended).map_err(fail)?;
    }
    tx.commit().map_err(fail)?;
    match kept.ended {
        Some(ended) if kept.early => end_early(db, &kept.id, ended),
        _ => Ok(()),
    }
}

/// Keeps an answered turn, and where it is a lead question the attempt that it makes with what is then known of the card,
/// in one transaction.
pub(super) fn keep_turn(
    db: &mut Db,
    id: &str,
    n: usize,
    turn: &Turn,
    attempt: Option<&(Attempt, CardMemory)>,
) -> Result<(), StoreError> {
    if let Some((attempt, known)) = attempt {
        attempts::check(attempt)?;
        memory::check(&attempt.card, known)?;
    }
    let turn = json(turn)?;
    let file = db.file.clone();
    let fail = |e: rusqlite::Error| StoreError::from_sql(KEEP, &file, &e);
    let tx = db.conn.transaction().map_err(fail)?;
    let (mut turns, in_table) = chains::of_sitting(&tx, id).map_err(fail)?;
    match turns.get(n) {
        Some(kept) if *kept == turn => {}
        Some(_) => {
            let what = format!("turn {} of the sitting", n + 1);
            return Err(StoreError::Refused { what, why: "another answer is already kept in its place".to_owned() });
        }
        None if in_table => put_turn(&tx, id, n, &turn).map_err(fail)?,
        None => {
            turns.push(turn);
            chains::add(&tx, id, turns).map_err(fail)?;
        }
    }
    if let Some((attempt, known)) = attempt
        && attempts::add(&tx, attempt).map_err(fail)?
    {
        memory::put(&tx, &attempt.card, known).map_err(fail)?;
    }
    tx.commit().map_err(fail)
}

/// A sitting is over.
pub(super) fn end(db: &mut Db, id: &str, at: Instant) -> Result<(), StoreError> {
    let file = db.file.clone();
    let fail = |e: rusqlite::Error| StoreError::from_sql(KEEP, &file, &e);
    let tx = db.conn.transaction().map_err(fail)?;
    put_end(&tx, id, at).map_err(fail)?;
    tx.commit().map_err(fail)
}

/// A sitting is ended by hand: it has a debrief, and can be taken up again.
pub(super) fn end_early(db: &Db, id: &str, at: Instant) -> Result<(), StoreError> {
    keep_event(db, ENDED_EARLY, id, at)
}

/// A sitting that was ended by hand goes on.
pub(super) fn take_up(db: &Db, id: &str, at: Instant) -> Result<(), StoreError> {
    keep_event(db, TAKEN_UP, id, at)
}

/// Keeps such an event. They hold in order of time, so that it comes after those before it though the clock was put back.
fn keep_event(db: &Db, kind: &str, id: &str, at: Instant) -> Result<(), StoreError> {
    let json = json(&OfSitting { sitting: id.to_owned() })?;
    let last: Option<i64> = db
        .conn
        .query_row(
            "SELECT max(at_ms) FROM event WHERE kind IN (?1, ?2) AND json = ?3",
            [ENDED_EARLY, TAKEN_UP, &json],
            |row| row.get(0),
        )
        .map_err(db.fail(KEEP))?;
    let at = Instant(last.map_or(at.0, |last| at.0.max(last.saturating_add(1))));
    events::add(db, kind, &KeptEvent { at, json })
}

/// Marks the sittings that stand as ended by hand. One that came to its last question after all is over.
fn mark_early(db: &Db, sittings: &mut [KeptSitting]) -> Result<(), StoreError> {
    let fail = db.fail(READ);
    let statement =
        db.conn.prepare("SELECT at_ms, kind, json FROM event WHERE kind IN (?1, ?2) ORDER BY at_ms, kind, json");
    let mut statement = statement.map_err(&fail)?;
    let mut rows = statement.query([ENDED_EARLY, TAKEN_UP]).map_err(&fail)?;
    let mut count = 0;
    while let Some(row) = rows.next().map_err(&fail)? {
        count += 1;
        let Ok((at, kind, of)) = read_end(row) else {
            db.unread.other(format!("the end of a sitting, {count}"));
            continue;
        };
        let Some(kept) = sittings.iter_mut().find(|kept| kept.id == of.sitting) else { continue };
        if kept.early || kept.ended.is_none() {
            kept.early = kind == ENDED_EARLY;
            kept.ended = kept.early.then_some(at);
        }
    }
    Ok(())
}

/// Every sitting that can be read, in order of (time, id).
pub(super) fn all(db: &Db) -> Result<Vec<KeptSitting>, StoreError> {
    let fail = db.fail(READ);
    let mut statement = db
        .conn
        .prepare(
            "SELECT s.id, s.at_ms, s.ship_minutes, s.device, s.setup, e.at_ms FROM sitting s
             LEFT JOIN sitting_end e ON e.sitting = s.id ORDER BY s.at_ms, s.id",
        )
        .map_err(&fail)?;
    let mut rows = statement.query([]).map_err(&fail)?;
    let mut others = chains::others(&db.conn).map_err(&fail)?;
    let mut all = Vec::new();
    while let Some(row) = rows.next().map_err(&fail)? {
        let id = String::from_utf8_lossy(row.get_ref(0).map_err(&fail)?.as_bytes().unwrap_or_default()).into_owned();
        // A turn that cannot be read leaves a gap that nothing fits: its whole sitting is left out.
        let table = chains::in_table(&db.conn, &id).map_err(&fail)?;
        let turns = turns(&chains::decided(table, others.remove(&id)));
        match turns.and_then(|turns| read(row, turns)) {
            Some(kept) => all.push(kept),
            None => db.unread.other(format!("the sitting {id}")),
        }
    }
    mark_early(db, &mut all)?;
    Ok(all)
}

fn read_end(row: &Row<'_>) -> rusqlite::Result<(Instant, String, OfSitting)> {
    let text: String = row.get(2)?;
    let of = serde_json::from_str(&text)
        .map_err(|e| rusqlite::Error::FromSqlConversionFailure(2, Type::Text, Box::new(e)))?;
    Ok((Instant(row.get(0)?), row.get(1)?, of))
}

fn read(row: &Row<'_>, turns: Vec<Turn>) -> Option<KeptSitting> {
    let setup: Setup = serde_json::from_str(row.get_ref(4).ok()?.as_str().ok()?).ok()?;
    Some(KeptSitting {
        id: row.get(0).ok()?,
        at: Instant(row.get(1).ok()?),
        ship: ShipOffset::from_minutes(row.get(2).ok()?)?,
        device: row.get(3).ok()?,
        sitting: Sitting { setup, turns },
        ended: row.get::<_, Option<i64>>(5).ok()?.map(Instant),
        early: false,
    })
}

/// Turns from their JSON; none where one of them cannot be read.
fn turns(texts: &[String]) -> Option<Vec<Turn>> {
    texts.iter().map(|text| serde_json::from_str(text).ok()).collect()
}

fn put_turn(tx: &rusqlite::Transaction<'_>, id: &str, n: usize, turn: &str) -> rusqlite::Result<()> {
    tx.execute(
        "INSERT INTO sitting_turn (sitting, n, turn) VALUES (?1, ?2, ?3) ON CONFLICT (sitting, n) DO NOTHING",
        params![id, n as i64, turn],
    )?;
    Ok(())
}

fn put_end(tx: &rusqlite::Transaction<'_>, id: &str, at: Instant) -> rusqlite::Result<()> {
    tx.execute(
        "INSERT INTO sitting_end (sitting, at_ms) VALUES (?1, ?2) ON CONFLICT (sitting) DO NOTHING",
        params![id, at.0],
    )?;
    Ok(())
}

fn json(what: &impl serde::Serialize) -> Result<String, StoreError> {
    serde_json::to_string(what).map_err(|e| StoreError::Refused { what: "the sitting".to_owned(), why: e.to_string() })
}
