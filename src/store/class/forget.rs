//! Forgetting a learner for good: every row of theirs goes, the file is written anew without them, and so are its backups.
//! What is left is a digest by which a file of theirs is known again, and from which their id cannot be told.

use rusqlite::params;

use super::super::error::StoreError;
use super::file::{ClassFile, SWEEP, count_change, put_meta};
use crate::domain::day::Instant;

const FORGET: &str = "forget the learner";

impl ClassFile {
    /// Whether a learner with this digest was forgotten.
    ///
    /// # Errors
    /// Where the file cannot be read.
    pub fn was_forgotten(&self, token: &str) -> Result<bool, StoreError> {
        let sql = "SELECT count(*) FROM forgotten WHERE token = ?1";
        let count: u32 = self.conn.query_row(sql, [token], |row| row.get(0)).map_err(self.fail("read the class"))?;
        Ok(count > 0)
    }

    /// A learner who was forgotten is back, as somebody has said.
    ///
    /// # Errors
    /// Where the file cannot be written.
    pub fn remember(&self, token: &str) -> Result<(), StoreError> {
        self.conn.execute("DELETE FROM forgotten WHERE token = ?1", [token]).map_err(self.fail(FORGET))?;
        Ok(())
    }

    /// Forgets a learner; `token` is what a file of theirs will be known by.
    ///
    /// # Errors
    /// Where the file cannot be written. Once the rows are gone the rest is done at the next opening, if not now.
    pub fn forget(&mut self, learner: &str, token: &str, now: Instant) -> Result<(), StoreError> {
        let path = self.path.clone();
        let fail = |e: rusqlite::Error| StoreError::from_sql(FORGET, &path, &e);
        let tx = self.conn.transaction().map_err(fail)?;
        for table in ["attempt", "oral", "fault"] {
            tx.execute(&format!("DELETE FROM {table} WHERE learner = ?1"), [learner]).map_err(fail)?;
        }
        tx.execute("DELETE FROM learner WHERE id = ?1", [learner]).map_err(fail)?;
        let sql = "INSERT INTO forgotten (token, at_ms) VALUES (?1, ?2) ON CONFLICT DO NOTHING";
        tx.execute(sql, params![token, now.0]).map_err(fail)?;
        put_meta(&tx, SWEEP, "1").map_err(fail)?;
        count_change(&tx).map_err(fail)?;
        tx.commit().map_err(fail)?;
        self.finish_sweep()?;
        self.back_up(now)
    }

    /// Takes the backups away that still hold a forgotten learner, and writes the file anew. A program that was killed
    /// after the rows were gone has left this to the next opening.
    pub(super) fn finish_sweep(&mut self) -> Result<(), StoreError> {
        if self.meta(SWEEP).map_err(self.fail(FORGET))?.as_deref() != Some("1") {
            return Ok(());
        }
        self.remove_backups()?;
        self.conn.execute_batch("VACUUM").map_err(self.fail(FORGET))?;
        put_meta(&self.conn, SWEEP, "0").map_err(self.fail(FORGET))
    }
}
