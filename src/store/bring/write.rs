//! Writing a profile out as one file.

use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::Path;

use sha2::{Digest, Sha256};

use super::figures::ProfileFile;
use super::line::{Head, Line};
use super::look::{is_profile_file, look};
use super::read::{in_words, last_line};
use super::{rows, settings};
use crate::domain::day::Instant;
use crate::store::db::Db;
use crate::store::error::StoreError;
use crate::store::{chains, files, kept, learner_id, rights};

const DOING: &str = "write the profile out";

/// Writes all that the profile holds into `to`, which takes the place of a profile's file of that name and of no other
/// file. Rows that cannot be read are left out.
pub(in crate::store) fn write(db: &Db, to: &Path, now: Instant) -> Result<ProfileFile, StoreError> {
    if to.exists() && !is_profile_file(to) {
        let why = "a file that is no profile’s stands there under this name; give another name";
        return Err(StoreError::Refused {
            what: format!("the profile’s file {}", to.display()), why: why.to_owned()
        });
    }
    let unfinished = files::with_suffix(to, ".new");
    let written = put(db, &unfinished, now).and_then(|()| look(&unfinished));
    let in_place = written.and_then(|told| {
        files::put_in_place(&unfinished, to).map_err(|e| StoreError::from_io(DOING, to, &e))?;
        Ok(ProfileFile { file: to.to_owned(), ..told })
    });
    if in_place.is_err() {
        // Gives the room back; what is left of it is overwritten next time.
        let _ = files::remove(&unfinished);
    }
    in_place
}

fn put(db: &Db, to: &Path, now: Instant) -> Result<(), StoreError> {
    let fail = db.fail(DOING);
    let ids: Vec<String> = learner_id::all(&db.conn).map_err(&fail)?.into_iter().collect();
    if ids.is_empty() {
        let why = "an earlier version of the program has it open. Close that first";
        return Err(StoreError::Refused { what: "the profile’s file".to_owned(), why: why.to_owned() });
    }
    let learner = kept::settings(db)?.map(|settings| settings.learner).unwrap_or_default();
    let out = rights::create(to).map_err(|e| StoreError::from_io(DOING, to, &e))?;
    let mut out = Out { out: BufWriter::new(out), to, hash: Sha256::new() };
    out.line(&Head::new(now.0, learner, ids))?;
    if let Some(standing) = settings::standing(&db.conn).map_err(&fail)? {
        out.line(&Line::Settings { at: standing.at, json: standing.json })?;
    }
    sittings(db, &mut out)?;
    let editions = [&rows::EDITION, &rows::EDITION_CARD, &rows::ASKED];
    for table in [&rows::END, &rows::ANSWER, &rows::SET_ASIDE, &rows::FAULT, &rows::EVENT].into_iter().chain(editions) {
        each(db, table, &mut |line| out.line(&line))?;
    }
    out.finish()
}

/// A file being written.
struct Out<'a> {
    out: BufWriter<File>,
    to: &'a Path,
    hash: Sha256,
}

impl Out<'_> {
    fn line(&mut self, line: &impl serde::Serialize) -> Result<(), StoreError> {
        let mut text = serde_json::to_vec(line).map_err(|e| StoreError::from_io(DOING, self.to, &e.into()))?;
        text.push(b'\n');
        self.hash.update(&text);
        self.out.write_all(&text).map_err(|e| StoreError::from_io(DOING, self.to, &e))
    }

    fn finish(mut self) -> Result<(), StoreError> {
        let last = last_line(&in_words(self.hash));
        let done = self.out.write_all(last.as_bytes()).and_then(|()| self.out.flush());
        done.map_err(|e| StoreError::from_io(DOING, self.to, &e))
    }
}

/// Goes through a table's rows. One that cannot be read, or would not be taken in again, is left out.
fn each(db: &Db, table: &rows::Table, visit: &mut dyn FnMut(Line) -> Result<(), StoreError>) -> Result<(), StoreError> {
    let fail = db.fail(DOING);
    let mut statement = db.conn.prepare(table.sql).map_err(&fail)?;
    let mut rows = statement.query([]).map_err(&fail)?;
    let mut number = 0;
    while let Some(row) = rows.next().map_err(&fail)? {
        number += 1;
        match (table.make)(row) {
            Ok(line) if line.check().is_ok() => visit(line)?,
            Ok(Line::Answer(answer)) => db.unread.answer(answer.id),
            _ => db.unread.other(format!("{}, {number}", table.sql)),
        }
    }
    Ok(())
}

/// Each sitting with its turns; one of whose turns cannot be read is left out whole.
fn sittings(db: &Db, out: &mut Out<'_>) -> Result<(), StoreError> {
    let fail = db.fail(DOING);
    each(db, &rows::SITTING, &mut |line| {
        let Line::Sitting { id, .. } = &line else { return Ok(()) };
        let turns = chains::in_table(&db.conn, id).map_err(&fail)?;
        let turns: Vec<Line> = (0..).zip(turns).map(|(n, turn)| Line::Turn { sitting: id.clone(), n, turn }).collect();
        if turns.iter().any(|turn| turn.check().is_err()) {
            db.unread.other(format!("the sitting {id}"));
            return Ok(());
        }
        out.line(&line)?;
        turns.iter().try_for_each(|turn| out.line(turn))
    })
}
