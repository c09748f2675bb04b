//! Opening a profile: lock it, make or check its file, bring it up to date, read what the program starts with.

use std::path::{Path, PathBuf};
use std::sync::{Arc, PoisonError};
use std::thread::JoinHandle;

use super::backup::{self, Moment};
use super::backup_info::BackupInfo;
use super::connect::connect;
use super::db::Db;
use super::error::{OpenError, StoreError};
use super::handle::Store;
use super::health::{self, Health, Look};
use super::held::{CREATED, DEVICE, held};
use super::journal::{self, Journal};
use super::kept::{self, FaultReport};
use super::lock::ProfileLock;
use super::notice::{Notice, Notices};
use super::thread::Worker;
use super::wake::Wake;
use super::{attempts, files, fresh, learner_id, memory, place, profiles, recover, rights, salvage, schema};
use crate::domain::attempt::SetAside;
use crate::domain::day::Instant;
use crate::domain::ids::CardKey;
use crate::domain::memory::CardMemory;
use crate::domain::settings::Settings;

const OPEN: &str = "open the profile";

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
    /// What the learner should hear of the opening. Word of the start's backup comes later, by
    /// [`Store::take_notices`].
    pub notices: Vec<Notice>,
}

impl Store {
    /// Opens the profile in `options.dir`, making folder and file where there are none.
    ///
    /// # Errors
    /// See [`OpenError`]; the profile's file is then as it was.
    pub fn open(options: OpenOptions) -> Result<Opened, OpenError> {
        open(options)
    }
}

pub(super) fn open(options: OpenOptions) -> Result<Opened, OpenError> {
    let OpenOptions { dir, now, wake } = options;
    make_folder(&dir).map_err(|e| StoreError::from_io("make the profile's folder", &dir, &e))?;
    let lock = ProfileLock::take(&dir)?;
    rights::limit_profile(&dir);
    let mut notices = Vec::new();
    let file = files::profile(&dir);
    let copies = place::copies(&dir);
    journal::settle(&file);
    match health::look(&file, Look::Quick)? {
        Health::Sound => {}
        Health::Missing if copies.iter().any(|copy| is_sound(copy)) => {
            // Taken away under the running program: its own last copy goes in its place.
            if let Some(copy) = copies.iter().rfind(|copy| is_sound(copy)) {
                let unfinished = backup::bring_back(copy, &dir)?;
                backup::put_in_place(&unfinished, &dir)?;
            }
        }
        Health::Missing if backup::list(&dir)?.is_empty() => {
            fresh::create(&dir, now)?;
            notices.push(Notice::Created);
        }
        Health::Missing => return Err(damaged(&dir, now, "it is missing".to_owned())),
        Health::Damaged(why) => return Err(damaged(&dir, now, why)),
        Health::Newer(found) => return Err(OpenError::Newer { path: file, found, known: schema::VERSION }),
    }
    let journal = journal::settle(&file);
    let mut db = Db::of(connect(&file, journal, OPEN)?, file.clone(), journal);
    bring_up_to_date(&mut db, now, &mut notices)?;
    // A full disk is no reason not to open: the id is given at the next opening.
    let _ = learner_id::ensure(&db.conn);
    for copy in copies {
        let answers = salvage::unite(&mut db.conn, &file, &copy, false)?;
        // One that cannot be renamed is only taken in once more.
        let _ = place::taken_in(&copy);
        if answers > 0 {
            notices.push(Notice::TakenIn { answers });
        }
    }
    let opened = start(db, Some(lock), now, wake, notices).map_err(|error| match error {
        StoreError::Damaged { why, .. } => damaged(&dir, now, why),
        StoreError::Unreadable { what, why, .. } => damaged(&dir, now, format!("{what} cannot be read ({why})")),
        other => other.into(),
    })?;
    profiles::note(&dir, Some(&opened.settings.learner), Some(now));
    Ok(opened)
}

/// Makes the profile's folder, and those above it where they are missing; profiles are their owner's alone.
fn make_folder(dir: &Path) -> std::io::Result<()> {
    if let Some(above) = dir.parent() {
        rights::create_dir(above)?;
    }
    rights::create_dir(dir)
}

fn is_sound(file: &Path) -> bool {
    matches!(health::look(file, Look::Quick), Ok(Health::Sound))
}

pub(super) fn damaged(dir: &Path, now: Instant, why: String) -> OpenError {
    OpenError::Damaged {
        path: files::profile(dir),
        why,
        set_aside_would_be: recover::set_aside_name(dir, now),
        newest_good_backup: backup::newest_good(dir),
    }
}

/// Brings an older file up to date, after a backup of it as it is.
fn bring_up_to_date(db: &mut Db, now: Instant, notices: &mut Vec<Notice>) -> Result<(), StoreError> {
    let from = schema::version(&db.conn).map_err(db.fail(OPEN))?;
    if from < schema::VERSION {
        notices.extend(backup_notice(Moment::hold(&db.file).and_then(|moment| moment.back_up(now))));
        let file = db.file.clone();
        schema::migrate(&mut db.conn).map_err(|e| StoreError::from_sql("bring the profile up to date", &file, &e))?;
        if from < schema::SEARCH_APART {
            // The room of the search index that is now in a file of its own. Without it all goes on as well.
            let _ = db.conn.execute_batch("VACUUM");
        }
        notices.push(Notice::Upgraded { from });
    }
    Ok(())
}

fn backup_notice(made: Result<Option<BackupInfo>, StoreError>) -> Option<Notice> {
    match made {
        Ok(made) => made.map(Notice::BackupMade),
        Err(error) => Some(Notice::BackupFailed(error)),
    }
}

/// Makes the start's backup, of the profile as it is now, beside the store's thread, so that the window need not
/// wait for it. Its notice comes by [`Store::take_notices`].
fn start_backup(file: &Path, now: Instant, wake: &Wake, notices: &Notices) -> Option<JoinHandle<()>> {
    let tell = {
        let (wake, notices) = (wake.clone(), notices.clone());
        move |notice| {
            notices.lock().unwrap_or_else(PoisonError::into_inner).push(notice);
            wake();
        }
    };
    let tell_of_failure = tell.clone();
    let started = Moment::hold(file).and_then(|moment| {
        let work = move || backup_notice(moment.back_up(now)).into_iter().for_each(tell);
        let started = std::thread::Builder::new().name("backup".to_owned()).spawn(work);
        started.map_err(|e| StoreError::from_io("make a backup", file, &e))
    });
    started.map_err(|error| tell_of_failure(Notice::BackupFailed(error))).ok()
}

/// Reads what the program starts with and hands the connection to the store's thread. Without the lock it is for reading
/// only.
pub(super) fn start(
    mut db: Db,
    lock: Option<ProfileLock>,
    now: Instant,
    wake: Wake,
    mut notices: Vec<Notice>,
) -> Result<Opened, StoreError> {
    let later = Notices::default();
    (db.unread.notices, db.unread.wake) = (later.clone(), wake.clone());
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
    let backup = match (&lock, db.journal) {
        (None, _) => None,
        (Some(_), Journal::Ahead) => start_backup(&db.file, now, &wake, &later),
        (Some(_), Journal::Rollback) => {
            // Without a log nothing can be kept while the file is read: the backup comes first.
            let made = backup_notice(Moment::hold(&db.file).and_then(|moment| moment.back_up(now)));
            later.lock().unwrap_or_else(PoisonError::into_inner).extend(made);
            None
        }
    };
    db.held = lock.as_ref().map(|_| held(&db.conn)).transpose().map_err(db.fail(OPEN))?;
    let worker = Worker::start(db, lock, wake, later, backup)?;
    let store = Store { worker: Arc::new(worker) };
    Ok(Opened { store, created, settings, device, attempts_count, memory, stamp, set_aside, faults, notices })
}
