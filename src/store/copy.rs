//! A copy of an open file, page by page.

use std::path::Path;

use rusqlite::Connection;
use rusqlite::backup::{Backup, StepResult};

use super::health;

/// Copies page by page into a new file, which has no log beside it.
pub(super) fn copy(from: &Connection, to: &Path) -> rusqlite::Result<()> {
    let mut copy = health::open_to_write(to)?;
    // The file is put on the disk once, when it is whole.
    copy.pragma_update(None, "synchronous", "OFF")?;
    let backup = Backup::new(from, &mut copy)?;
    let step = backup.step(-1)?;
    drop(backup);
    if step != StepResult::Done {
        let busy = rusqlite::ffi::Error::new(rusqlite::ffi::SQLITE_BUSY);
        return Err(rusqlite::Error::SqliteFailure(busy, None));
    }
    copy.query_row("PRAGMA journal_mode = DELETE", [], |_| Ok(()))?;
    copy.close().map_err(|(_, e)| e)
}
