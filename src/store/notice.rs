//! What the learner should hear of the store: what happened to the profile and did not stop the work.

use std::fmt;
use std::sync::{Arc, Mutex};

use super::backup_info::BackupInfo;
use super::error::StoreError;

/// Notices that came after opening, until somebody takes them.
pub(super) type Notices = Arc<Mutex<Vec<Notice>>>;

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
    /// A backup was made.
    BackupMade(BackupInfo),
    /// No backup could be made.
    BackupFailed(StoreError),
    /// Rows that cannot be read: they stay in the file and are left out.
    Unreadable {
        /// Answers.
        answers: usize,
        /// Other rows: sittings, cards set aside, fault reports, events.
        others: usize,
    },
    /// Answers were taken in from a copy that was put aside when the profile's file was moved or replaced.
    TakenIn {
        /// How many the profile did not hold.
        answers: u64,
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
            Notice::BackupMade(backup) => write!(f, "A backup was made: {}.", backup.path.display()),
            Notice::BackupFailed(error) => write!(f, "No backup was made: {error}."),
            Notice::Unreadable { answers, others } => unreadable(f, *answers, *others),
            Notice::TakenIn { answers } => {
                let were = if *answers == 1 { "answer was" } else { "answers were" };
                write!(
                    f,
                    "{answers} {were} taken in from the copy made when the profile’s file had been moved or replaced."
                )
            }
            Notice::SettingsUnreadable { why } => {
                write!(f, "The settings could not be read ({why}) and are as on the first day. Please set them again.")
            }
        }
    }
}

fn unreadable(f: &mut fmt::Formatter<'_>, answers: usize, others: usize) -> fmt::Result {
    let some = |n: usize, one: &str, many: &str| format!("{n} {}", if n == 1 { one } else { many });
    let what = match (answers, others) {
        (answers, 0) => some(answers, "answer", "answers"),
        (0, others) => some(others, "entry", "entries"),
        (answers, others) => {
            format!("{} and {}", some(answers, "answer", "answers"), some(others, "other entry", "other entries"))
        }
    };
    let (are, they) = if answers + others == 1 { ("is", "It stays") } else { ("are", "They stay") };
    write!(
        f,
        "{what} in these records cannot be read and {are} left out. {they} in the file; all the rest is used as before."
    )
}
