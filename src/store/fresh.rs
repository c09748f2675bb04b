//! A new profile's file.

use std::path::Path;

use super::db::Db;
use super::error::StoreError;
use super::held::{CREATED, DEVICE};
use super::journal::{self, Journal};
use super::{files, health, ids, kept, learner_id, profiles, schema};
use crate::domain::day::Instant;
use crate::domain::settings::Settings;

/// Makes a new profile's file under another name and puts it in place when it is whole.
pub(super) fn create(dir: &Path, now: Instant) -> Result<(), StoreError> {
    let doing = "make a new profile";
    let path = files::unfinished(dir);
    files::remove_with_logs(&path).map_err(|e| StoreError::from_io(doing, &path, &e))?;
    let sql = |e: rusqlite::Error| StoreError::from_sql(doing, &path, &e);
    let mut conn = health::open_to_write(&path).map_err(sql)?;
    schema::migrate(&mut conn).map_err(sql)?;
    for (name, value) in [(CREATED, now.0.to_string()), (DEVICE, ids::new_device())] {
        conn.execute("INSERT INTO meta (name, value) VALUES (?1, ?2)", [name, &value]).map_err(sql)?;
    }
    let settings = Settings { learner: profiles::learner(dir), ..Settings::default() };
    let db = Db::of(conn, path.clone(), Journal::Rollback);
    kept::save_settings(&db, &settings, now)?;
    learner_id::ensure(&db.conn).map_err(sql)?;
    db.conn.close().map_err(|(_, e)| sql(e))?;
    journal::keep_a_log(&path).map_err(sql)?;
    files::put_in_place(&path, &files::profile(dir)).map_err(|e| StoreError::from_io(doing, &path, &e))
}
