//! The connection to a profile's file, with what every request needs beside it: the search index, what could not be
//! read, and whether the file is still in its place.

use std::cell::RefCell;
use std::collections::HashSet;
use std::path::{Path, PathBuf};
use std::sync::{Arc, PoisonError};

use rusqlite::Connection;

use super::error::StoreError;
use super::held::Held;
use super::index::Index;
use super::journal::Journal;
use super::lock::ProfileLock;
use super::notice::{Notice, Notices};
use super::place::Place;
use super::wake::Wake;
use crate::domain::editions::Lineage;

/// The connection with the profile's folder.
pub(super) struct Db {
    pub(super) conn: Connection,
    /// The profile's file.
    pub(super) file: PathBuf,
    /// The search index, in a file of its own.
    pub(super) search: Index,
    /// Rows that cannot be read.
    pub(super) unread: Unread,
    /// Which card goes on with which history.
    pub(super) lineage: Lineage,
    pub(super) place: Place,
    /// How the file is written.
    pub(super) journal: Journal,
    /// Held while the profile is open; none where it is only read.
    pub(super) lock: Option<ProfileLock>,
    /// What the file held when something was last kept in it; none before.
    pub(super) held: Option<Held>,
    /// The disk failed: the file is opened anew before anything else is kept in it.
    pub(super) failed: bool,
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
    pub(super) fn of(conn: Connection, file: PathBuf, journal: Journal) -> Self {
        let (answers, others) = (RefCell::default(), RefCell::default());
        let unread = Unread { answers, others, notices: Notices::default(), wake: Arc::new(|| {}) };
        let mut search = Index::default();
        search.set_journal(journal);
        let (lineage, place, lock, held) = (Lineage::default(), Place::default(), None, None);
        Self { conn, file, search, unread, lineage, place, journal, lock, held, failed: false }
    }

    /// Fails where the profile's file is no longer the one that was opened.
    pub(super) fn check_place(&mut self, doing: &str) -> Result<(), StoreError> {
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
