//! The store's own thread. It owns the connection and the profile's lock, does one job after another and, when
//! the last handle goes, folds the write-ahead log into the file and ends.

use std::cell::RefCell;
use std::collections::HashSet;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Sender, channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::{Builder, JoinHandle};

use rusqlite::Connection;

use super::error::StoreError;
use super::index::Index;
use super::lock::ProfileLock;
use super::open::Notice;
use super::place::Place;
use super::ticket::{Ticket, ticket};

/// Called when an answer is ready, from the store's thread: asks the window to look again.
pub type Wake = Arc<dyn Fn() + Send + Sync>;

/// The connection with the profile's folder.
pub(super) struct Db {
    pub(super) conn: Connection,
    /// The profile's file.
    pub(super) file: PathBuf,
    /// The search index, in a file of its own.
    pub(super) search: Index,
    /// Rows that cannot be read.
    pub(super) unread: Unread,
    place: Place,
}

/// Rows that cannot be read: they stay in the file and are left out. Told once for each, as soon as it is met.
pub(super) struct Unread {
    answers: RefCell<HashSet<String>>,
    others: RefCell<HashSet<String>>,
    /// Where it is told.
    pub(super) notices: Notices,
    /// Called then.
    pub(super) wake: Wake,
}

impl Unread {
    /// An answer, by its id as far as that can be read.
    pub(super) fn answer(&self, id: String) {
        let new = self.answers.borrow_mut().insert(id);
        self.tell(new);
    }

    /// Something else, by its table and what is known of the row.
    pub(super) fn other(&self, row: String) {
        let new = self.others.borrow_mut().insert(row);
        self.tell(new);
    }

    fn tell(&self, new: bool) {
        if !new {
            return;
        }
        let notice = Notice::Unreadable { answers: self.answers.borrow().len(), others: self.others.borrow().len() };
        {
            let mut notices = self.notices.lock().unwrap_or_else(PoisonError::into_inner);
            notices.retain(|other| !matches!(other, Notice::Unreadable { .. }));
            notices.push(notice);
        }
        (self.wake)();
    }
}

impl Db {
    /// A connection to the profile's file.
    pub(super) fn of(conn: Connection, file: PathBuf) -> Self {
        let (answers, others) = (RefCell::default(), RefCell::default());
        let unread = Unread { answers, others, notices: Notices::default(), wake: Arc::new(|| {}) };
        Self { conn, file, search: Index::default(), unread, place: Place::default() }
    }

    /// Fails where the profile's file is no longer the one that was opened.
    fn check_place(&mut self, doing: &str) -> Result<(), StoreError> {
        self.place.check(&self.conn, &self.file, doing)
    }

    /// Turns SQLite's answer into ours, for `map_err`.
    pub(super) fn fail<'a>(&'a self, doing: &'a str) -> impl Fn(rusqlite::Error) -> StoreError + 'a {
        move |error| StoreError::from_sql(doing, &self.file, &error)
    }

    /// A row that cannot be read.
    pub(super) fn unreadable(&self, what: String, why: impl ToString) -> StoreError {
        StoreError::Unreadable { what, place: self.file.clone(), why: why.to_string() }
    }

    /// The profile's folder.
    pub(super) fn dir(&self) -> &Path {
        self.file.parent().unwrap_or(Path::new("."))
    }
}

type Job = Box<dyn FnOnce(&mut Db) + Send>;

/// Notices that came after opening, until somebody takes them.
pub(super) type Notices = Arc<Mutex<Vec<Notice>>>;

/// Where requests are handed in.
pub(super) struct Desk {
    jobs: Option<Sender<Job>>,
    thread: Option<JoinHandle<()>>,
    wake: Wake,
    notices: Notices,
    reads_only: bool,
}

impl Desk {
    /// Starts the thread; without the lock it only reads. `beside` is work going on beside it that must end before the profile is let go.
    pub(super) fn start(
        mut db: Db,
        lock: Option<ProfileLock>,
        wake: Wake,
        notices: Notices,
        beside: Option<JoinHandle<()>>,
    ) -> Result<Self, StoreError> {
        let (jobs, inbox) = channel::<Job>();
        let place = db.file.clone();
        let reads_only = lock.is_none();
        let thread = Builder::new()
            .name("store".to_owned())
            .spawn(move || {
                for job in inbox {
                    job(&mut db);
                }
                if let Some(beside) = beside {
                    // Its panic, if any, has no bearing on the profile.
                    let _ = beside.join();
                }
                close(db);
                drop(lock);
            })
            .map_err(|e| StoreError::from_io("start the store's thread", &place, &e))?;
        Ok(Self { jobs: Some(jobs), thread: Some(thread), wake, notices, reads_only })
    }

    /// Hands in a request.
    pub(super) fn ask<T: Send + 'static>(
        &self,
        work: impl FnOnce(&mut Db) -> Result<T, StoreError> + Send + 'static,
    ) -> Ticket<T> {
        let (replier, ticket) = ticket(self.wake.clone());
        if let Some(jobs) = &self.jobs {
            // A thread that has ended drops the job, and the ticket then says `Closed`.
            let _ = jobs.send(Box::new(move |db| replier.reply(work(db))));
        }
        ticket
    }

    /// Hands in a request that writes to the profile: it only counts as done where the file is still in its place,
    /// before and after. `doing` says what it is, as "keep the answer".
    pub(super) fn keep<T: Send + 'static>(
        &self,
        doing: &'static str,
        work: impl FnOnce(&mut Db) -> Result<T, StoreError> + Send + 'static,
    ) -> Ticket<T> {
        self.ask(move |db| {
            db.check_place(doing)?;
            let done = work(db)?;
            db.check_place(doing)?;
            Ok(done)
        })
    }

    /// Where notices come in.
    pub(super) fn notices(&self) -> Notices {
        Arc::clone(&self.notices)
    }

    /// Nothing can be kept.
    pub(super) fn reads_only(&self) -> bool {
        self.reads_only
    }

    /// Takes the notices that have come in.
    pub(super) fn take_notices(&self) -> Vec<Notice> {
        std::mem::take(&mut self.notices.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

impl Drop for Desk {
    fn drop(&mut self) {
        self.jobs = None;
        if let Some(thread) = self.thread.take() {
            // The last handle may go on the store's own thread, inside `wake`; it cannot wait for itself.
            if thread.thread().id() != std::thread::current().id() {
                let _ = thread.join();
            }
        }
    }
}

/// Folds the log into the file. What fails here loses nothing: the log is read again at the next start.
fn close(db: Db) {
    let _ = db.conn.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()));
    let _ = db.conn.close();
}
