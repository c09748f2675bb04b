//! The store's own thread. It owns the connection and the profile's lock, does one job after another and, when
//! the last handle goes, folds the write-ahead log into the file and ends.

use std::sync::mpsc::{Sender, channel};
use std::sync::{Arc, PoisonError};
use std::thread::{Builder, JoinHandle};

use super::again;
use super::db::Db;
use super::error::StoreError;
use super::held::held;
use super::lock::ProfileLock;
use super::notice::{Notice, Notices};
use super::ticket::{Ticket, ticket};
use super::wake::Wake;

type Job = Box<dyn FnOnce(&mut Db) + Send>;

/// The store's thread, seen from outside: where requests are handed in.
pub(super) struct Worker {
    jobs: Option<Sender<Job>>,
    thread: Option<JoinHandle<()>>,
    wake: Wake,
    notices: Notices,
    reads_only: bool,
}

impl Worker {
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
        db.lock = lock;
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
            let is_back = matches!(db.check_place(doing), Err(StoreError::DiskGone { .. })) && db.file.exists();
            if db.failed || is_back {
                db.failed = true;
                again::go_on(db, doing)?;
            }
            let done = db.check_place(doing).and_then(|()| work(db)).and_then(|done| {
                db.check_place(doing)?;
                db.held = Some(held(&db.conn).map_err(db.fail(doing))?);
                Ok(done)
            });
            db.failed = done.as_ref().is_err_and(is_of_disk);
            done
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

impl Drop for Worker {
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

/// Whether the disk failed: what can be written again later is then opened anew.
fn is_of_disk(error: &StoreError) -> bool {
    matches!(error, StoreError::Io { .. } | StoreError::NotWritable { .. } | StoreError::DiskGone { .. })
}

/// Folds the log into the file. What fails here loses nothing: the log is read again at the next start.
fn close(db: Db) {
    let Db { conn, lock, .. } = db;
    let _ = conn.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()));
    let _ = conn.close();
    drop(lock);
}
