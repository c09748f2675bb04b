//! Bringing a profile's file into a profile: all of it in one transaction, or nothing.

use std::collections::{BTreeSet, HashSet};
use std::path::Path;

use rusqlite::{Connection, ErrorCode, Params, TransactionBehavior, params};

use super::figures::{Counts, Merged, Whose};
use super::line::{Answer, Head, Line};
use super::read::{self, Item, refused};
use super::rows;
use super::settings::{self, Standing};
use crate::domain::day::Instant;
use crate::store::backup::Moment;
use crate::store::db::Db;
use crate::store::error::StoreError;
use crate::store::{chains, kept, learner_id, memory, profiles};

const DOING: &str = "bring the profile’s file in";

/// What is wished.
pub(in crate::store) struct Wish {
    /// The digest of the file that was looked at.
    pub(in crate::store) sha256: String,
    /// Another learner's answers may come in.
    pub(in crate::store) mixing: bool,
    /// Keep it; otherwise only what would be changed is told.
    pub(in crate::store) keep: bool,
}

/// Brings `file` in, after a backup of the profile as it is.
pub(in crate::store) fn merge(db: &mut Db, file: &Path, wish: &Wish, now: Instant) -> Result<Merged, StoreError> {
    let here = kept::settings(db)?.map(|settings| settings.learner).unwrap_or_default();
    if wish.keep {
        Moment::hold(&db.file).and_then(|moment| moment.back_up(now))?;
    }
    let place = db.file.clone();
    let fail = |e: rusqlite::Error| StoreError::from_sql(DOING, &place, &e);
    let tx = db.conn.transaction_with_behavior(TransactionBehavior::Immediate).map_err(fail)?;
    let mut work = Work {
        conn: &tx,
        file,
        place: &place,
        taken_in: Counts::default(),
        there: Counts::default(),
        known: known(&tx).map_err(fail)?,
        turns: None,
        ids: BTreeSet::new(),
        settings: None,
    };
    read::each(file, &wish.sha256, |item| match item {
        Item::Head(head) => work.head(head),
        Item::Line(line) => work.line(line),
    })?;
    work.put_turns()?;
    let Work { taken_in, there, ids, settings, .. } = work;
    let whose = whose(&tx, &ids, &taken_in, &there).map_err(fail)?;
    if whose == Whose::Other && wish.keep && !wish.mixing {
        let why = "it is another learner’s; answers of two learners are brought together only where that is wished";
        return Err(refused(file, why));
    }
    let settings = match settings {
        Some(theirs) => settings::bring(&tx, &theirs, whose == Whose::Fresh).map_err(fail)?,
        None => false,
    };
    join(&tx, ids, whose).map_err(fail)?;
    // Editions say which cards go on with which history.
    if taken_in.answers + taken_in.taken_back + taken_in.editions > 0 {
        memory::forget_stamp(&tx).map_err(fail)?;
    }
    if wish.keep {
        tx.commit().map_err(fail)?;
        let learner = kept::settings(db)?.map(|settings| settings.learner).unwrap_or_default();
        profiles::note(db.dir(), Some(&learner), None);
    }
    Ok(Merged { whose, here, taken_in, there, settings })
}

/// Whose the file is. The profile was without answers where it has no others than those that have just come in.
fn whose(conn: &Connection, ids: &BTreeSet<String>, new: &Counts, there: &Counts) -> rusqlite::Result<Whose> {
    if !learner_id::all(conn)?.is_disjoint(ids) {
        return Ok(Whose::Same);
    }
    let count = |table: &str| conn.query_row(&format!("SELECT count(*) FROM {table}"), [], |row| row.get::<_, i64>(0));
    let before = count("attempt")?.unsigned_abs() + count("sitting")?.unsigned_abs() - new.answers - new.sittings;
    let is_fresh = before == 0 && there.answers + there.sittings == 0 && !learner_id::has_joined(conn)?;
    Ok(if is_fresh { Whose::Fresh } else { Whose::Other })
}

fn join(conn: &Connection, theirs: BTreeSet<String>, whose: Whose) -> rusqlite::Result<()> {
    let mine = if whose == Whose::Fresh { BTreeSet::new() } else { learner_id::all(conn)? };
    let all = mine.union(&theirs).cloned().collect();
    if all != mine {
        learner_id::keep(conn, &all)?;
    }
    learner_id::note_joined(conn)
}

/// Everything that has no id, as the lines that it makes.
fn known(conn: &Connection) -> rusqlite::Result<HashSet<String>> {
    let mut all = HashSet::new();
    for table in [&rows::SET_ASIDE, &rows::FAULT, &rows::EVENT] {
        let mut statement = conn.prepare(table.sql)?;
        let mut rows = statement.query([])?;
        while let Some(row) = rows.next()? {
            // What cannot be read is like nothing that comes in.
            all.extend((table.make)(row).ok().and_then(|line| serde_json::to_string(&line).ok()));
        }
    }
    Ok(all)
}

/// A file being brought in.
struct Work<'a> {
    conn: &'a Connection,
    file: &'a Path,
    place: &'a Path,
    taken_in: Counts,
    there: Counts,
    known: HashSet<String>,
    /// The sitting whose turns are coming, and those that have come.
    turns: Option<(String, Vec<String>)>,
    ids: BTreeSet<String>,
    settings: Option<Standing>,
}

impl Work<'_> {
    fn head(&mut self, head: Head) -> Result<(), StoreError> {
        self.ids = head.ids.into_iter().collect();
        Ok(())
    }

    fn line(&mut self, line: Line) -> Result<(), StoreError> {
        if let Line::Turn { sitting, n, turn } = line {
            return self.turn(sitting, n as usize, turn);
        }
        self.put_turns()?;
        let is_new = match &line {
            Line::Settings { at, json } => {
                if self.settings.replace(Standing { at: *at, json: json.clone() }).is_some() {
                    return Err(refused(self.file, "it has settings twice"));
                }
                return Ok(());
            }
            Line::Turn { .. } => return Ok(()),
            Line::Sitting { id, at, ship, device, setup } => {
                let is_new = self.put(
                    "INSERT INTO sitting (id, at_ms, ship_minutes, device, setup) VALUES (?1, ?2, ?3, ?4, ?5)
                     ON CONFLICT (id) DO NOTHING",
                    params![id, at, ship, device, setup],
                )?;
                let sql =
                    "SELECT at_ms = ?2 AND ship_minutes = ?3 AND device = ?4 AND setup = ?5 FROM sitting WHERE id = ?1";
                self.must_be(sql, params![id, at, ship, device, setup], &format!("the sitting {id}"))?;
                self.turns = Some((id.clone(), Vec::new()));
                is_new
            }
            Line::End { sitting, at } => {
                // Of two ends the later one, whichever came first; one of no sitting that is known says nothing.
                self.put(
                    "INSERT INTO sitting_end (sitting, at_ms) SELECT id, ?2 FROM sitting WHERE id = ?1
                     ON CONFLICT (sitting) DO UPDATE SET at_ms = excluded.at_ms WHERE excluded.at_ms > at_ms",
                    params![sitting, at],
                )?
            }
            Line::Answer(answer) => self.answer(answer)?,
            Line::SetAside { card, at, until, day } => {
                self.is_unknown(&line)?
                    && self.put(
                        "INSERT INTO set_aside (card, at_ms, until, day) VALUES (?1, ?2, ?3, ?4)",
                        params![card, at, until, day],
                    )?
            }
            Line::Fault { card, at, note } => {
                self.is_unknown(&line)?
                    && self.put("INSERT INTO fault (card, at_ms, note) VALUES (?1, ?2, ?3)", params![card, at, note])?
            }
            Line::Edition { .. } | Line::EditionCard { .. } | Line::Asked { .. } => self.edition(&line)?,
            Line::Event { at, kind, json } => {
                self.is_unknown(&line)?
                    && self.put("INSERT INTO event (at_ms, kind, json) VALUES (?1, ?2, ?3)", params![at, kind, json])?
            }
        };
        self.counted(&line, is_new);
        Ok(())
    }

    fn counted(&mut self, line: &Line, is_new: bool) {
        let counts = if is_new { &mut self.taken_in } else { &mut self.there };
        if let Some(count) = counts.of(line) {
            *count += 1;
        }
    }

    /// Each row once, by the columns that tell one from another.
    fn edition(&self, line: &Line) -> Result<bool, StoreError> {
        match line {
            Line::Edition { deck, number, at } => self.once(
                "INSERT INTO edition (deck, number, at_ms) VALUES (?1, ?2, ?3) ON CONFLICT DO NOTHING",
                "SELECT number = ?2 FROM edition WHERE deck = ?1 AND at_ms = ?3",
                params![deck, number, at],
                "an edition",
            ),
            Line::EditionCard { card, at, digest, was } => self.once(
                "INSERT INTO edition_card (card, at_ms, digest, was) VALUES (?1, ?2, ?3, ?4) ON CONFLICT DO NOTHING",
                "SELECT digest IS ?3 AND was = ?4 FROM edition_card WHERE card = ?1 AND at_ms = ?2",
                params![card, at, digest, was],
                "a card of an edition",
            ),
            Line::Asked { digest, json } => self.once(
                "INSERT INTO asked (digest, json) VALUES (?1, ?2) ON CONFLICT DO NOTHING",
                "SELECT json = ?2 FROM asked WHERE digest = ?1",
                params![digest, json],
                "what a card asked",
            ),
            _ => Ok(false),
        }
    }

    fn once(&self, insert: &str, same: &str, row: impl Params + Copy, what: &str) -> Result<bool, StoreError> {
        let is_new = self.put(insert, row)?;
        if !is_new {
            self.must_be(same, row, what)?;
        }
        Ok(is_new)
    }

    fn answer(&self, a: &Answer) -> Result<bool, StoreError> {
        let seconds = a.seconds();
        let row = params![a.id, a.card, a.at, a.ship, a.device, a.evidence, a.outcome, a.notch, seconds];
        let is_new = self.put(
            "INSERT INTO attempt (id, card, at_ms, ship_minutes, device, evidence, outcome, notch, seconds)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9) ON CONFLICT (id) DO NOTHING",
            row,
        )?;
        if !is_new {
            let sql = "SELECT card = ?2 AND at_ms = ?3 AND ship_minutes = ?4 AND device = ?5 AND evidence = ?6
                       AND outcome = ?7 AND notch = ?8 AND seconds = ?9 FROM attempt WHERE id = ?1";
            self.must_be(sql, row, &format!("the answer {}", a.id))?;
        }
        Ok(is_new)
    }

    /// An id stands for one thing only.
    fn must_be(&self, sql: &str, row: impl Params, what: &str) -> Result<(), StoreError> {
        let same = self.conn.prepare_cached(sql).and_then(|mut s| s.query_row(row, |row| row.get::<_, bool>(0)));
        if same.map_err(|e| self.failed(&e))? {
            return Ok(());
        }
        Err(refused(self.file, format!("{what} is another than the one that is kept here under its id")))
    }

    /// A turn comes after those before it, right behind its sitting.
    fn turn(&mut self, sitting: String, n: usize, turn: String) -> Result<(), StoreError> {
        match &mut self.turns {
            Some((id, turns)) if *id == sitting && turns.len() == n => {
                turns.push(turn);
                Ok(())
            }
            _ => Err(refused(self.file, format!("turn {} of the sitting {sitting} stands in no order", n + 1))),
        }
    }

    /// Puts the turns that have come to their sitting.
    fn put_turns(&mut self) -> Result<(), StoreError> {
        let Some((sitting, turns)) = self.turns.take() else { return Ok(()) };
        let here = chains::in_table(self.conn, &sitting).map_err(|e| self.failed(&e))?;
        let new = if here.starts_with(&turns) {
            0
        } else if turns.starts_with(&here) {
            for (n, turn) in turns.iter().enumerate().skip(here.len()) {
                let sql = "INSERT INTO sitting_turn (sitting, n, turn) VALUES (?1, ?2, ?3)";
                self.put(sql, params![sitting, n as i64, turn])?;
            }
            turns.len() - here.len()
        } else {
            let alike = here.iter().zip(&turns).take_while(|(a, b)| a == b).count();
            let is_new = chains::add(self.conn, &sitting, turns.clone()).map_err(|e| self.failed(&e))?;
            if is_new { turns.len() - alike } else { 0 }
        };
        self.taken_in.turns += new as u64;
        self.there.turns += (turns.len() - new) as u64;
        Ok(())
    }

    /// Whether nothing here says what this line says.
    fn is_unknown(&mut self, line: &Line) -> Result<bool, StoreError> {
        let text = serde_json::to_string(line).map_err(|e| refused(self.file, e.to_string()))?;
        Ok(self.known.insert(text))
    }

    /// Whether it changed anything.
    fn put(&self, sql: &str, row: impl Params) -> Result<bool, StoreError> {
        let changed = self.conn.prepare_cached(sql).and_then(|mut statement| statement.execute(row));
        changed.map(|changed| changed > 0).map_err(|e| self.failed(&e))
    }

    /// What the tables do not take is the file's fault; all else is the disk's.
    fn failed(&self, error: &rusqlite::Error) -> StoreError {
        match error.sqlite_error_code() {
            Some(ErrorCode::ConstraintViolation) => refused(self.file, format!("it cannot be taken in ({error})")),
            _ => StoreError::from_sql(DOING, self.place, error),
        }
    }
}
