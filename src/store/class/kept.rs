//! What a class holds, read back.

use rusqlite::Row;

use super::super::error::StoreError;
use super::file::ClassFile;
use crate::domain::day::Instant;
use crate::domain::ids::CardKey;
use crate::domain::roster::{ClassRecord, HandedFault, LearnerRecord};

const READ: &str = "read the class";

impl ClassFile {
    /// All that the class holds: assignments in order of time, learners in order of name, each with attempts, orals and
    /// faults in order of time.
    ///
    /// # Errors
    /// Where the file cannot be read, or a row of it makes no sense.
    pub fn record(&self) -> Result<ClassRecord, StoreError> {
        let assignments = self.rows("SELECT json FROM assignment ORDER BY made_ms, id", &[], &json_row)?;
        let learner = |row: &Row<'_>| {
            let (id, name) = (row.get(0)?, row.get(1)?);
            let none = (Vec::new(), Vec::new(), Vec::new());
            Ok(LearnerRecord { id, name, last: Instant(row.get(2)?), attempts: none.0, orals: none.1, faults: none.2 })
        };
        let mut learners = self.rows("SELECT id, name, last_ms FROM learner ORDER BY name, id", &[], &learner)?;
        for learner in &mut learners {
            let of = [learner.id.as_str()];
            let sql = "SELECT json FROM attempt WHERE learner = ?1 ORDER BY at_ms, id";
            learner.attempts = self.rows(sql, &of, &json_row)?;
            learner.orals = self.rows("SELECT json FROM oral WHERE learner = ?1 ORDER BY at_ms, id", &of, &json_row)?;
            let sql = "SELECT card, at_ms, note FROM fault WHERE learner = ?1 ORDER BY at_ms, card, note";
            learner.faults = self.rows(sql, &of, &fault_row)?;
        }
        Ok(ClassRecord { class: self.class().clone(), assignments, learners })
    }

    fn rows<T>(
        &self,
        sql: &str,
        of: &[&str],
        read: &dyn Fn(&Row<'_>) -> rusqlite::Result<T>,
    ) -> Result<Vec<T>, StoreError> {
        let fail = self.fail(READ);
        let mut statement = self.conn.prepare_cached(sql).map_err(&fail)?;
        let rows = statement.query_map(rusqlite::params_from_iter(of), read).map_err(&fail)?;
        rows.collect::<rusqlite::Result<Vec<T>>>().map_err(|error| match error {
            rusqlite::Error::FromSqlConversionFailure(_, _, why) => {
                let (what, place) = ("a row of the class".to_owned(), self.path.clone());
                StoreError::Unreadable { what, place, why: why.to_string() }
            }
            other => fail(other),
        })
    }
}

fn json_row<T: serde::de::DeserializeOwned>(row: &Row<'_>) -> rusqlite::Result<T> {
    let text: String = row.get(0)?;
    serde_json::from_str(&text).map_err(|e| senseless(Box::new(e)))
}

fn fault_row(row: &Row<'_>) -> rusqlite::Result<HandedFault> {
    let card: String = row.get(0)?;
    let key = CardKey::parse(&card).ok_or_else(|| senseless(format!("`{card}` is no card key").into()))?;
    Ok(HandedFault { card: key, at: Instant(row.get(1)?), note: row.get(2)? })
}

fn senseless(why: Box<dyn std::error::Error + Send + Sync>) -> rusqlite::Error {
    rusqlite::Error::FromSqlConversionFailure(0, rusqlite::types::Type::Text, why)
}
