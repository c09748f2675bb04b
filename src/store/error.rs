//! What can go wrong in the store: what, where and how to mend it, in words for the learner.

use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use rusqlite::ErrorCode;
use thiserror::Error;

use super::backup_info::BackupInfo;

/// A request that was not carried out. Nothing of it is in the file, and what was in the file still is.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum StoreError {
    /// No room left.
    #[error("could not {doing}: the disk that holds {place} is full. Free some space, then try again")]
    DiskFull {
        /// What was asked, as "keep the answer".
        doing: String,
        /// The file or folder.
        place: PathBuf,
    },
    /// No right to write, or a write-protected disk.
    #[error(
        "could not {doing}: {place} may not be written ({why}). Allow writing there, or name a folder that you may write by --home or BEDPLATE_HOME"
    )]
    NotWritable {
        /// What was asked.
        doing: String,
        /// The file or folder.
        place: PathBuf,
        /// The system's words.
        why: String,
    },
    /// The system could not read or write.
    #[error("could not {doing}: {place} could not be read or written ({why}). Check the disk, then try again")]
    Io {
        /// What was asked.
        doing: String,
        /// The file or folder.
        place: PathBuf,
        /// The system's words.
        why: String,
    },
    /// Another program holds the file.
    #[error("could not {doing}: another program is using {place}. Close it, then try again")]
    Busy {
        /// What was asked.
        doing: String,
        /// The file.
        place: PathBuf,
    },
    /// The file was found damaged while in use.
    #[error(
        "could not {doing}: {place} is damaged ({why}). Close the program and start it again: it sets the file aside and offers the newest good backup"
    )]
    Damaged {
        /// What was asked.
        doing: String,
        /// The file.
        place: PathBuf,
        /// What is wrong with it.
        why: String,
    },
    /// The data itself may not be kept.
    #[error("{what} was not kept: {why}")]
    Refused {
        /// Which data.
        what: String,
        /// Why, and what would do.
        why: String,
    },
    /// A row that this version cannot read.
    #[error("{what} in {place} cannot be read ({why}). Restore a backup, or ask for help with the file")]
    Unreadable {
        /// Which row.
        what: String,
        /// The file.
        place: PathBuf,
        /// What is wrong with it.
        why: String,
    },
    /// A file that was to be taken in, and is not; nothing of it is kept.
    #[error("{file} was refused: {why}. Nothing of it was taken in")]
    FileRefused {
        /// The file.
        file: PathBuf,
        /// What is wrong with it.
        why: String,
    },
    /// The search index was of no use and has been made anew, empty: the decks have to be read in again.
    #[error("the search has to be made ready again. Read the decks again, then search once more")]
    SearchLost,
    /// The disk with the profile was taken out.
    #[error(
        "could not {doing}: the disk with {place} is not there any more. Every answer that was said to be kept is on it. Put it back in its place, then try again"
    )]
    DiskGone {
        /// What was asked.
        doing: String,
        /// The file.
        place: PathBuf,
    },
    /// The profile's file is no longer the one that was opened.
    #[error(
        "could not {doing}: {place} was moved, replaced or deleted while this program had it open (a program that synchronises or tidies files may do so). {} Stop that program, then close this one and start it again",
        match copy {
            Some(copy) => format!("Every answer kept so far is in a copy, {}, and is taken in at the next start.", copy.display()),
            None => "No copy of it could be made.".to_owned(),
        }
    )]
    Moved {
        /// What was asked.
        doing: String,
        /// The file.
        place: PathBuf,
        /// The copy that was made of what was kept so far.
        copy: Option<PathBuf>,
    },
    /// The store's thread has ended.
    #[error("the profile has been closed. Start the program again")]
    Closed,
}

/// Why a profile was not opened. Its file is as it was.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum OpenError {
    /// Another window or program has it open.
    #[error(
        "the profile in {dir} is already open in another window. Close that window first, or choose another profile"
    )]
    InUse {
        /// The profile's folder.
        dir: PathBuf,
    },
    /// Written by a later version.
    #[error(
        "{path} was written by a later version of the program (file version {found}, this program reads up to {known}). Install the later version; the file was left as it is"
    )]
    Newer {
        /// The file.
        path: PathBuf,
        /// The file's version.
        found: u32,
        /// The newest version that this program reads.
        known: u32,
    },
    /// Not to be used as it is. `Store::restore_backup` or `Store::start_afresh` go on from here.
    #[error(
        "{path} is damaged: {why}. It can be set aside as {set_aside_would_be} (nothing is deleted), to go on {}",
        if newest_good_backup.is_some() { "from the newest good backup or afresh" } else { "afresh; no good backup was found" }
    )]
    Damaged {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        why: String,
        /// The name that it would be set aside under.
        set_aside_would_be: PathBuf,
        /// The newest backup that was looked through and found good.
        newest_good_backup: Option<BackupInfo>,
    },
    /// The disk, the folder or the rights to it.
    #[error(transparent)]
    Store(#[from] StoreError),
}

impl StoreError {
    /// From SQLite's answer.
    pub(super) fn from_sql(doing: &str, place: &Path, error: &rusqlite::Error) -> Self {
        let (doing, place) = (doing.to_owned(), place.to_owned());
        let why = error.to_string();
        match error.sqlite_error_code() {
            Some(ErrorCode::DiskFull) => Self::DiskFull { doing, place },
            Some(ErrorCode::ReadOnly | ErrorCode::PermissionDenied | ErrorCode::AuthorizationForStatementDenied) => {
                Self::NotWritable { doing, place, why }
            }
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Self::Busy { doing, place },
            Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => Self::Damaged { doing, place, why },
            _ => Self::Io { doing, place, why },
        }
    }

    /// From the system's answer.
    pub(super) fn from_io(doing: &str, place: &Path, error: &std::io::Error) -> Self {
        let (doing, place) = (doing.to_owned(), place.to_owned());
        let why = error.to_string();
        match error.kind() {
            ErrorKind::StorageFull | ErrorKind::QuotaExceeded => Self::DiskFull { doing, place },
            ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => Self::NotWritable { doing, place, why },
            _ => Self::Io { doing, place, why },
        }
    }
}
