//! What a class takes in: assignments and hand-ins. Attempts are united by their ids, so that a hand-in may come again, out
//! of order, or from two computers of one learner.

use rusqlite::{OptionalExtension, Transaction, params};
use serde::Serialize;

use super::super::error::StoreError;
use super::file::{ClassFile, count_change};
use crate::domain::roster::{Assignment, HandIn, HandedAttempt};

const TAKE: &str = "take the hand-in in";
const GIVE: &str = "keep the assignment";

/// What taking in a hand-in came to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Taken {
    /// Attempts that were new.
    pub new: usize,
    /// Attempts that were there already.
    pub known: usize,
    /// The learner was not in the class before.
    pub joined: bool,
}

impl ClassFile {
    /// Keeps an assignment that was given out. One that is there already keeps the words of its cards.
    ///
    /// # Errors
    /// Where the file cannot be written; nothing of it is kept then.
    pub fn put_assignment(&mut self, assignment: &Assignment) -> Result<(), StoreError> {
        let path = self.path.clone();
        let fail = |e: rusqlite::Error| StoreError::from_sql(GIVE, &path, &e);
        let json = json(assignment)?;
        let tx = self.conn.transaction().map_err(fail)?;
        put_assignment(&tx, assignment, &json).map_err(fail)?;
        count_change(&tx).map_err(fail)?;
        tx.commit().map_err(fail)
    }

    /// Takes a hand-in in, all of it in one transaction.
    ///
    /// # Errors
    /// Where the file cannot be written; nothing of it is kept then.
    pub fn take_in(&mut self, hand_in: &HandIn) -> Result<Taken, StoreError> {
        let path = self.path.clone();
        let fail = |e: rusqlite::Error| StoreError::from_sql(TAKE, &path, &e);
        let (assignment, made) = (json(&hand_in.assignment)?, hand_in.made.0);
        let tx = self.conn.transaction().map_err(fail)?;
        put_assignment(&tx, &hand_in.assignment, &assignment).map_err(fail)?;
        let joined = put_learner(&tx, hand_in).map_err(fail)?;
        let mut taken = Taken { new: 0, known: 0, joined };
        for attempt in &hand_in.attempts {
            if put_attempt(&tx, &hand_in.learner, made, attempt).map_err(fail)? {
                taken.new += 1;
            } else {
                taken.known += 1;
            }
        }
        for oral in hand_in.orals.iter().flatten() {
            let sql = "INSERT INTO oral (learner, id, at_ms, json) VALUES (?1, ?2, ?3, ?4) ON CONFLICT DO UPDATE SET
                       at_ms = excluded.at_ms, json = excluded.json";
            tx.execute(sql, params![hand_in.learner, oral.id, oral.at.0, json(oral)?]).map_err(fail)?;
        }
        for fault in &hand_in.faults {
            let sql = "INSERT INTO fault (learner, card, at_ms, note) VALUES (?1, ?2, ?3, ?4) ON CONFLICT DO NOTHING";
            tx.execute(sql, params![hand_in.learner, fault.card.to_string(), fault.at.0, fault.note]).map_err(fail)?;
        }
        count_change(&tx).map_err(fail)?;
        tx.commit().map_err(fail)?;
        Ok(taken)
    }
}

fn json(of: &impl Serialize) -> Result<String, StoreError> {
    serde_json::to_string(of).map_err(|e| StoreError::Refused { what: "the hand-in".to_owned(), why: e.to_string() })
}

fn put_assignment(tx: &Transaction<'_>, assignment: &Assignment, json: &str) -> rusqlite::Result<()> {
    // What the lecturer gave out has the words of its cards; what comes back with a hand-in has not.
    let has_words = assignment.cards.iter().any(|card| card.text.is_some());
    let then = if has_words { "UPDATE SET json = excluded.json" } else { "NOTHING" };
    let sql = format!("INSERT INTO assignment (id, made_ms, json) VALUES (?1, ?2, ?3) ON CONFLICT (id) DO {then}");
    tx.execute(&sql, params![assignment.id, assignment.made.0, json]).map(|_| ())
}

/// Whether the learner is new. The name is that of the hand-in made last; where two were made in one moment, the one that
/// sorts last, so that the order of adding does not matter.
fn put_learner(tx: &Transaction<'_>, hand_in: &HandIn) -> rusqlite::Result<bool> {
    let known = "SELECT count(*) FROM learner WHERE id = ?1";
    let known: u32 = tx.query_row(known, [&hand_in.learner], |row| row.get(0))?;
    tx.execute(
        "INSERT INTO learner (id, name, named_ms, last_ms) VALUES (?1, ?2, ?3, ?3) ON CONFLICT (id) DO UPDATE SET
         name = CASE WHEN (excluded.named_ms, excluded.name) > (named_ms, name) THEN excluded.name ELSE name END,
         named_ms = max(named_ms, excluded.named_ms), last_ms = max(last_ms, excluded.last_ms)",
        params![hand_in.learner, hand_in.name, hand_in.made.0],
    )?;
    Ok(known == 0)
}

/// Whether the attempt is new.
fn put_attempt(tx: &Transaction<'_>, learner: &str, made: i64, attempt: &HandedAttempt) -> rusqlite::Result<bool> {
    let text = |of: &HandedAttempt| {
        serde_json::to_string(of).map_err(|e| rusqlite::Error::ToSqlConversionFailure(Box::new(e)))
    };
    let before: Option<(i64, String)> = tx
        .prepare_cached("SELECT made_ms, json FROM attempt WHERE learner = ?1 AND id = ?2")?
        .query_row(params![learner, attempt.id.0], |row| Ok((row.get(0)?, row.get(1)?)))
        .optional()?;
    // A row that cannot be read is written anew.
    let kept =
        before.and_then(|(made, json)| serde_json::from_str::<HandedAttempt>(&json).ok().map(|kept| (made, kept)));
    let is_new = kept.is_none();
    let (made, united) = match kept {
        None => (made, attempt.clone()),
        Some((before, kept)) if (before, text(&kept)?) <= (made, text(attempt)?) => {
            (made, HandedAttempt::united(kept, attempt.clone()))
        }
        Some((before, kept)) => (before, HandedAttempt::united(attempt.clone(), kept)),
    };
    tx.prepare_cached(
        "INSERT INTO attempt (learner, id, at_ms, made_ms, json) VALUES (?1, ?2, ?3, ?4, ?5)
         ON CONFLICT (learner, id) DO UPDATE SET at_ms = excluded.at_ms, made_ms = excluded.made_ms, json = excluded.json",
    )?
    .execute(params![learner, united.id.0, united.at.0, made, text(&united)?])?;
    Ok(is_new)
}
