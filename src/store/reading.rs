//! Opening a profile that another program has open: to read it only. Nothing is made, mended, brought up to date or backed
//! up, and no lock is taken; what is asked to be kept is refused.

use super::db::Db;
use super::error::{OpenError, StoreError};
use super::handle::Store;
use super::health::{self, Health, Look};
use super::journal::Journal;
use super::open::{self, OpenOptions, Opened};
use super::{files, schema};

impl Store {
    /// Opens the profile as [`Store::open`] does; where another program has it open, to read it only.
    ///
    /// # Errors
    /// As [`Store::open`]; `InUse` where it is open elsewhere and not there yet, or of an older version.
    pub fn open_or_read(options: OpenOptions) -> Result<Opened, OpenError> {
        open_or_read(options)
    }
}

fn open_or_read(options: OpenOptions) -> Result<Opened, OpenError> {
    let OpenOptions { dir, now, wake } = options;
    match open::open(OpenOptions { dir: dir.clone(), now, wake: wake.clone() }) {
        Err(OpenError::InUse { .. }) => to_read(OpenOptions { dir, now, wake }),
        other => other,
    }
}

fn to_read(options: OpenOptions) -> Result<Opened, OpenError> {
    let OpenOptions { dir, now, wake } = options;
    let file = files::profile(&dir);
    match health::look(&file, Look::Quick)? {
        Health::Sound => {}
        Health::Missing => return Err(OpenError::InUse { dir }),
        Health::Damaged(why) => return Err(open::damaged(&dir, now, why)),
        Health::Newer(found) => return Err(OpenError::Newer { path: file, found, known: schema::VERSION }),
    }
    let sql = |e: rusqlite::Error| StoreError::from_sql("read the profile", &file, &e);
    let conn = health::open_to_read(&file).map_err(sql)?;
    if schema::version(&conn).map_err(sql)? < schema::VERSION {
        // Only who has it open could bring it up to date.
        return Err(OpenError::InUse { dir });
    }
    Ok(open::start(Db::of(conn, file, Journal::Ahead), None, now, wake, Vec::new())?)
}
