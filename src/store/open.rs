//! Opening a profile: lock it, make or check its file, bring it up to date, read what the program starts with.

use std::fmt;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use rusqlite::Connection;

use super::error::{OpenError, StoreError};
use super::handle::Store;
use super::kept::{self, FaultReport};
use super::lock::ProfileLock;
use super::thread::{Db, Desk, Notices, Wake};
use super::{attempts, files, ids, memory, profiles, schema};
use crate::domain::attempt::SetAside;
use crate::domain::day::Instant;
use crate::domain::ids::CardKey;
use crate::domain::memory::CardMemory;
use crate::domain::settings::Settings;

const OPEN: &str = "open the profile";
const CREATED: &str = "created-ms";
const DEVICE: &str = "device";

/// What opening needs to know.
pub struct OpenOptions {
    /// The profile's folder.
    pub dir: PathBuf,
    /// The time, for a new profile's date and for the names of backups.
    pub now: Instant,
    /// Called from the store's threads when an answer or a notice is ready.
    pub wake: Wake,
}

/// An open profile with what the program starts with.
pub struct Opened {
    /// The handle.
    pub store: Store,
    /// When the profile was made.
    pub created: Instant,
    /// The learner's choices.
    pub settings: Settings,
    /// The name that attempts made here carry.
    pub device: String,
    /// Attempts kept so far.
    pub attempts_count: u64,
    /// What is known of each card, as last kept.
    pub memory: Vec<(CardKey, CardMemory)>,
    /// What `memory` was worked out by; `None` where it has to be rebuilt.
    pub stamp: Option<String>,
    /// All cards set aside and taken back, in order of time.
    pub set_aside: Vec<SetAside>,
    /// All faults reported, in order of time.
    pub faults: Vec<FaultReport>,
    /// What the learner should hear of the opening.
    pub notices: Vec<Notice>,
}

/// Something that happened to the profile and did not stop the work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Notice {
    /// The profile is new.
    Created,
    /// The file was brought up to date from an older version.
    Upgraded {
        /// The version before.
        from: u32,
    },
    /// The settings made no sense and are as on the first day.
    SettingsUnreadable {
        /// What was wrong with them.
        why: String,
    },
}

impl fmt::Display for Notice {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Notice::Created => f.write_str("A new profile was made."),
            Notice::Upgraded { from } => {
                write!(f, "The profile was brought up to date from file version {from}.")
            }
            Notice::SettingsUnreadable { why } => {
                write!(f, "The settings could not be read ({why}) and are as on the first day. Please set them again.")
            }
        }
    }
}

/// See [`Store::open`].
pub(super) fn open(options: OpenOptions) -> Result<Opened, OpenError> {
    let OpenOptions { dir, now, wake } = options;
    fs::create_dir_all(&dir).map_err(|e| StoreError::from_io("make the profile's folder", &dir, &e))?;
    let lock = ProfileLock::take(&dir)?;
    let mut notices = Vec::new();
    let file = files::profile(&dir);
    if !file.exists() {
        create(&dir, now)?;
        notices.push(Notice::Created);
    }
    let mut db = connect(&file)?;
    bring_up_to_date(&mut db, &mut notices)?;
    let opened = start(db, lock, wake, notices)?;
    profiles::note(&dir, Some(&opened.settings.learner), Some(now));
    Ok(opened)
}

/// Makes a new profile's file under another name and puts it in place when it is whole.
pub(super) fn create(dir: &Path, now: Instant) -> Result<(), StoreError> {
    let doing = "make a new profile";
    let path = files::unfinished(dir);
    files::remove(&path).map_err(|e| StoreError::from_io(doing, &path, &e))?;
    let sql = |e: rusqlite::Error| StoreError::from_sql(doing, &path, &e);
    let mut conn = Connection::open(&path).map_err(sql)?;
    schema::migrate(&mut conn).map_err(sql)?;
    for (name, value) in [(CREATED, now.0.to_string()), (DEVICE, ids::new_device())] {
        conn.execute("INSERT INTO meta (name, value) VALUES (?1, ?2)", [name, &value]).map_err(sql)?;
    }
    let settings = Settings { learner: profiles::learner(dir), ..Settings::default() };
    let db = Db { conn, file: path.clone() };
    kept::save_settings(&db, &settings)?;
    db.conn.close().map_err(|(_, e)| sql(e))?;
    files::put_in_place(&path, &files::profile(dir)).map_err(|e| StoreError::from_io(doing, &path, &e))
}

/// Opens the file for reading and writing, so that what is committed lasts.
fn connect(file: &Path) -> Result<Db, StoreError> {
    let sql = |e: rusqlite::Error| StoreError::from_sql(OPEN, file, &e);
    let conn = Connection::open(file).map_err(sql)?;
    conn.busy_timeout(Duration::from_secs(5)).map_err(sql)?;
    if conn.is_readonly(rusqlite::MAIN_DB).map_err(sql)? {
        let why = "the file is write-protected".to_owned();
        return Err(StoreError::NotWritable { doing: OPEN.to_owned(), place: file.to_owned(), why });
    }
    conn.query_row("PRAGMA journal_mode = WAL", [], |_| Ok(())).map_err(sql)?;
    conn.pragma_update(None, "synchronous", "FULL").map_err(sql)?;
    conn.pragma_update(None, "foreign_keys", true).map_err(sql)?;
    conn.set_prepared_statement_cache_capacity(32);
    Ok(Db { conn, file: file.to_owned() })
}

fn bring_up_to_date(db: &mut Db, notices: &mut Vec<Notice>) -> Result<(), OpenError> {
    let from = schema::version(&db.conn).map_err(db.fail(OPEN))?;
    if from > schema::VERSION {
        return Err(OpenError::Newer { path: db.file.clone(), found: from, known: schema::VERSION });
    }
    if from < schema::VERSION {
        let file = db.file.clone();
        schema::migrate(&mut db.conn).map_err(|e| StoreError::from_sql("bring the profile up to date", &file, &e))?;
        notices.push(Notice::Upgraded { from });
    }
    Ok(())
}

/// Reads what the program starts with and hands the connection to the store's thread.
fn start(db: Db, lock: ProfileLock, wake: Wake, mut notices: Vec<Notice>) -> Result<Opened, OpenError> {
    let settings = kept::settings(&db)?.unwrap_or_else(|why| {
        notices.push(Notice::SettingsUnreadable { why });
        Settings::default()
    });
    let created = kept::meta(&db, CREATED)?.and_then(|text| text.parse().ok()).map_or(Instant(0), Instant);
    let device =
        kept::meta(&db, DEVICE)?.ok_or_else(|| db.unreadable("the computer's name".to_owned(), "it is missing"))?;
    let attempts_count = attempts::count(&db)?;
    let (stamp, memory) = memory::load(&db)?;
    let (set_aside, faults) = (kept::set_aside(&db)?, kept::faults(&db)?);
    let desk = Desk::start(db, lock, wake, Notices::default(), None)?;
    let store = Store { desk: Arc::new(desk) };
    Ok(Opened { store, created, settings, device, attempts_count, memory, stamp, set_aside, faults, notices })
}
