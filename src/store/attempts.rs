//! Attempts in the file: added, never changed, read back in order of time.

use std::ops::ControlFlow;
use std::path::Path;

use rusqlite::{Connection, Row, Transaction, params};

use super::db::Db;
use super::error::StoreError;
use super::{memory, voids};
use crate::domain::attempt::Attempt;
use crate::domain::day::{Instant, ShipOffset};
use crate::domain::editions::Lineage;
use crate::domain::ids::{AttemptId, CardKey, is_id};
use crate::domain::memory::CardMemory;
use crate::domain::outcome::{Notch, Outcome};

const KEEP: &str = "keep the answer";
const READ: &str = "read the answers";
/// The longest evidence of one attempt, in bytes.
pub(super) const MOST_BYTES: usize = 1 << 20;
const COLUMNS: &str = "id, card, at_ms, ship_minutes, device, evidence, outcome, notch, seconds";

/// Keeps an attempt and what is now known of its card, in one transaction. An attempt that is there already
/// changes nothing.
pub(super) fn record(db: &mut Db, attempt: &Attempt, known: &CardMemory) -> Result<(), StoreError> {
    check(attempt)?;
    memory::check(&attempt.card, known)?;
    let file = db.file.clone();
    let fail = |e: rusqlite::Error| StoreError::from_sql(KEEP, &file, &e);
    let tx = db.conn.transaction().map_err(fail)?;
    if add(&tx, attempt).map_err(fail)? {
        memory::put(&tx, &attempt.card, known).map_err(fail)?;
    } else {
        same_as_kept(&tx, attempt).map_err(fail)??;
    }
    tx.commit().map_err(fail)
}

/// Adds attempts made elsewhere, in one transaction; how many were new. The memory cache no longer fits them,
/// so its stamp goes.
pub(super) fn unite(db: &mut Db, attempts: &[Attempt]) -> Result<u64, StoreError> {
    attempts.iter().try_for_each(check)?;
    let file = db.file.clone();
    let fail = |e: rusqlite::Error| StoreError::from_sql("add the answers", &file, &e);
    let tx = db.conn.transaction().map_err(fail)?;
    let mut new = 0;
    for attempt in attempts {
        if add(&tx, attempt).map_err(fail)? {
            new += 1;
        } else {
            same_as_kept(&tx, attempt).map_err(fail)??;
        }
    }
    if new > 0 {
        memory::forget_stamp(&tx).map_err(fail)?;
    }
    tx.commit().map_err(fail)?;
    Ok(new)
}

/// An attempt as it is listed: with those that were taken back.
#[derive(Debug, Clone, PartialEq)]
pub struct ListedAttempt {
    /// The attempt.
    pub attempt: Attempt,
    /// The attempt was taken back and counts for nothing.
    pub voided: bool,
}

/// All attempts that were ever accepted, each under the key that it was given under, those taken back among them, in order of (time, id) after the given one, or
/// from the first; at most `limit`.
pub(super) fn list(db: &Db, after: Option<&AttemptId>, limit: usize) -> Result<Vec<ListedAttempt>, StoreError> {
    let mut all = Vec::new();
    if limit == 0 {
        return Ok(all);
    }
    let mut visit = |listed| {
        all.push(listed);
        if all.len() < limit { ControlFlow::Continue(()) } else { ControlFlow::Break(()) }
    };
    let sql = format!("SELECT {COLUMNS} FROM attempt");
    match after {
        None => db.walk_as_kept(&format!("{sql} ORDER BY at_ms, id"), params![], &mut visit)?,
        Some(id) => {
            let sql =
                format!("{sql} WHERE (at_ms, id) > (SELECT at_ms, id FROM attempt WHERE id = ?1) ORDER BY at_ms, id");
            db.walk_as_kept(&sql, params![id.0], &mut visit)?;
        }
    }
    Ok(all)
}

/// Attempts that count, in order of (time, id) after the given one, or from the first; at most `limit`.
pub(super) fn page(db: &Db, after: Option<&AttemptId>, limit: usize) -> Result<Vec<Attempt>, StoreError> {
    let mut all: Vec<Attempt> = Vec::new();
    let mut after = after.cloned();
    while all.len() < limit {
        let listed = list(db, after.as_ref(), limit - all.len())?;
        let Some(last) = listed.last() else { break };
        after = Some(last.attempt.id.clone());
        let counting = listed.into_iter().filter(|listed| !listed.voided).map(|listed| listed.attempt);
        all.extend(counting.map(|attempt| under_heir(&db.lineage, attempt)));
    }
    Ok(all)
}

/// All attempts at one card that count, those under its former keys among them, in order of (time, id).
pub(super) fn of_card(db: &Db, card: &CardKey) -> Result<Vec<Attempt>, StoreError> {
    let keys = keys_json(&db.lineage, card);
    db.counting(&of_card_sql(), params![keys])
}

/// For each of these cards the last attempt that counts, under the key that it was given under; cards without one are
/// left out.
pub(super) fn last_of(db: &Db, cards: &[CardKey]) -> Result<Vec<(CardKey, Attempt)>, StoreError> {
    let mut all = Vec::new();
    for card in cards {
        let mut last = None;
        db.walk_as_kept(&of_card_sql(), params![keys_json(&db.lineage, card)], &mut |listed| {
            if !listed.voided {
                last = Some(listed.attempt);
            }
            ControlFlow::Continue(())
        })?;
        all.extend(last.map(|attempt| (card.clone(), attempt)));
    }
    Ok(all)
}

/// All attempts at one card that count, read within a transaction.
pub(super) fn left_of_card(
    conn: &Connection,
    file: &Path,
    lineage: &Lineage,
    card: &CardKey,
) -> Result<Vec<Attempt>, StoreError> {
    let mut all = Vec::new();
    let _unread = walk(conn, file, &of_card_sql(), params![keys_json(lineage, card)], &mut |listed| {
        if !listed.voided {
            all.push(listed.attempt);
        }
        ControlFlow::Continue(())
    })?;
    Ok(all)
}

fn of_card_sql() -> String {
    format!("SELECT {COLUMNS} FROM attempt WHERE card IN (SELECT value FROM json_each(?1)) ORDER BY at_ms, id")
}

/// The keys whose attempts count for a card, as [`of_card_sql`] takes them.
fn keys_json(lineage: &Lineage, card: &CardKey) -> String {
    let keys: Vec<String> = lineage.keys_of(card).iter().map(|key| format!("\"{key}\"")).collect();
    // Ids have no sign that would have to be written otherwise there.
    format!("[{}]", keys.join(","))
}

/// An attempt under the key that it counts under now.
fn under_heir(lineage: &Lineage, attempt: Attempt) -> Attempt {
    Attempt { card: lineage.heir(attempt.card), ..attempt }
}

/// Attempts that count from `from` up to, not including, `to`, in order of (time, id).
pub(super) fn between(db: &Db, from: Instant, to: Instant) -> Result<Vec<Attempt>, StoreError> {
    let sql = format!("SELECT {COLUMNS} FROM attempt WHERE at_ms >= ?1 AND at_ms < ?2 ORDER BY at_ms, id");
    db.counting(&sql, params![from.0, to.0])
}

/// Goes through all attempts that count in order of (time, id).
pub(super) fn each(db: &Db, mut visit: impl FnMut(Attempt)) -> Result<(), StoreError> {
    let sql = format!("SELECT {COLUMNS} FROM attempt ORDER BY at_ms, id");
    db.walk(&sql, params![], &mut |listed| {
        if !listed.voided {
            visit(listed.attempt);
        }
        ControlFlow::Continue(())
    })
}

/// How many there are that count.
pub(super) fn count(db: &Db) -> Result<u64, StoreError> {
    let fail = db.fail(READ);
    let n: i64 = db.conn.query_row("SELECT count(*) FROM attempt", [], |row| row.get(0)).map_err(&fail)?;
    Ok(n.unsigned_abs() - voids::count(&db.conn).map_err(&fail)?)
}

type Visit<'a> = &'a mut dyn FnMut(ListedAttempt) -> ControlFlow<()>;

impl Db {
    /// Goes through attempts, each under the key that it counts under now.
    fn walk(&self, sql: &str, params: impl rusqlite::Params, visit: Visit<'_>) -> Result<(), StoreError> {
        self.walk_as_kept(sql, params, &mut |listed| {
            visit(ListedAttempt { attempt: under_heir(&self.lineage, listed.attempt), ..listed })
        })
    }

    /// Goes through attempts, each under the key that it was given under.
    fn walk_as_kept(&self, sql: &str, params: impl rusqlite::Params, visit: Visit<'_>) -> Result<(), StoreError> {
        let unread = walk(&self.conn, &self.file, sql, params, visit)?;
        unread.into_iter().for_each(|id| self.unread.answer(id));
        Ok(())
    }

    fn counting(&self, sql: &str, params: impl rusqlite::Params) -> Result<Vec<Attempt>, StoreError> {
        let mut all = Vec::new();
        self.walk(sql, params, &mut |listed| {
            if !listed.voided {
                all.push(listed.attempt);
            }
            ControlFlow::Continue(())
        })?;
        Ok(all)
    }
}

/// Goes through attempts; those that cannot be read are passed over, and their ids are given.
fn walk(
    conn: &Connection,
    file: &Path,
    sql: &str,
    params: impl rusqlite::Params,
    visit: Visit<'_>,
) -> Result<Vec<String>, StoreError> {
    let fail = |e: rusqlite::Error| StoreError::from_sql(READ, file, &e);
    let gone = voids::ids(conn).map_err(fail)?;
    let mut statement = conn.prepare_cached(sql).map_err(fail)?;
    let mut rows = statement.query(params).map_err(fail)?;
    let mut unread = Vec::new();
    while let Some(row) = rows.next().map_err(fail)? {
        let attempt = match read(row) {
            Ok(attempt) => attempt,
            Err(id) => {
                unread.push(id);
                continue;
            }
        };
        let voided = gone.contains(&attempt.id.0);
        if visit(ListedAttempt { attempt, voided }).is_break() {
            break;
        }
    }
    Ok(unread)
}

/// How many attempts of a file cannot be read.
pub(super) fn unreadable(conn: &Connection) -> rusqlite::Result<usize> {
    let mut statement = conn.prepare(&format!("SELECT {COLUMNS} FROM attempt"))?;
    let mut rows = statement.query([])?;
    let mut count = 0;
    while let Some(row) = rows.next()? {
        count += usize::from(read(row).is_err());
    }
    Ok(count)
}

/// Whether an attempt may be kept: its key is a key, its numbers are numbers.
pub(super) fn check(attempt: &Attempt) -> Result<(), StoreError> {
    let refuse = |why: &str| {
        let what = format!("the answer to {} ({})", attempt.card, attempt.id.0);
        Err(StoreError::Refused { what, why: why.to_owned() })
    };
    if !(1..=64).contains(&attempt.id.0.chars().count()) {
        refuse("its id must have 1 to 64 characters")
    } else if !(is_id(&attempt.card.deck.0) && is_id(&attempt.card.card)) {
        refuse("its card key must be a deck's id and a card's id in lower-case letters, digits and hyphens")
    } else if !(attempt.seconds.is_finite() && attempt.seconds >= 0.0) {
        refuse("its seconds must be a number from 0")
    } else if evidence_json(attempt).is_ok_and(|evidence| evidence.len() > MOST_BYTES) {
        refuse("the answer is longer than 1 MB; give a shorter one")
    } else {
        Ok(())
    }
}

/// Whether it was new.
pub(super) fn add(tx: &Transaction<'_>, a: &Attempt) -> rusqlite::Result<bool> {
    let evidence = evidence_json(a)?;
    let mut statement = tx.prepare_cached(
        "INSERT INTO attempt (id, card, at_ms, ship_minutes, device, evidence, outcome, notch, seconds)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9) ON CONFLICT (id) DO NOTHING",
    )?;
    let added = statement.execute(params![
        a.id.0,
        a.card.to_string(),
        a.at.0,
        a.ship.minutes(),
        a.device,
        evidence,
        a.outcome.number(),
        a.notch.number(),
        a.seconds
    ])?;
    Ok(added == 1)
}

/// An attempt that is there already must be this very one: an id stands for one attempt only.
fn same_as_kept(tx: &Transaction<'_>, a: &Attempt) -> rusqlite::Result<Result<(), StoreError>> {
    let same: bool = tx
        .prepare_cached(
            "SELECT card = ?2 AND at_ms = ?3 AND ship_minutes = ?4 AND device = ?5 AND evidence = ?6
                 AND outcome = ?7 AND notch = ?8 AND seconds = ?9 FROM attempt WHERE id = ?1",
        )?
        .query_row(
            params![
                a.id.0,
                a.card.to_string(),
                a.at.0,
                a.ship.minutes(),
                a.device,
                evidence_json(a)?,
                a.outcome.number(),
                a.notch.number(),
                a.seconds
            ],
            |row| row.get(0),
        )?;
    Ok(if same {
        Ok(())
    } else {
        let what = format!("the answer to {} ({})", a.card, a.id.0);
        Err(StoreError::Refused { what, why: "another answer is already kept under this id".to_owned() })
    })
}

fn evidence_json(a: &Attempt) -> rusqlite::Result<String> {
    serde_json::to_string(&a.evidence).map_err(|e| rusqlite::Error::ToSqlConversionFailure(Box::new(e)))
}

/// The attempt of a row; its id, as far as that can be told, where the row makes no sense.
fn read(row: &Row<'_>) -> Result<Attempt, String> {
    let id = row.get_ref(0).map(|id| String::from_utf8_lossy(id.as_bytes().unwrap_or_default()).into_owned());
    let id = id.unwrap_or_default();
    read_fields(row, &id).map_err(|_| id)
}

fn read_fields(row: &Row<'_>, id: &str) -> Result<Attempt, String> {
    let sql = |e: rusqlite::Error| e.to_string();
    row.get_ref(0).map_err(sql)?.as_str().map_err(|e| e.to_string())?;
    let card: String = row.get(1).map_err(sql)?;
    let ship: i32 = row.get(3).map_err(sql)?;
    let evidence = row.get_ref(5).map_err(sql)?.as_str().map_err(|e| e.to_string())?;
    let outcome: u32 = row.get(6).map_err(sql)?;
    Ok(Attempt {
        id: AttemptId(id.to_owned()),
        card: CardKey::parse(&card).ok_or_else(|| format!("`{card}` is no card key"))?,
        at: Instant(row.get(2).map_err(sql)?),
        ship: ShipOffset::from_minutes(ship).ok_or_else(|| format!("{ship} minutes is no ship's time"))?,
        device: row.get(4).map_err(sql)?,
        evidence: serde_json::from_str(evidence).map_err(|e| format!("evidence: {e}"))?,
        outcome: Outcome::from_number(outcome).ok_or_else(|| format!("{outcome} is no outcome"))?,
        notch: Notch::from_number(row.get(7).map_err(sql)?),
        seconds: row.get(8).map_err(sql)?,
    })
}
