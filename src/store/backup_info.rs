//! What is told of a backup.

use std::path::PathBuf;

use crate::domain::day::Instant;

/// A backup of a profile.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BackupInfo {
    /// The copy.
    pub path: PathBuf,
    /// When it was made, to the second.
    pub made_at: Instant,
    /// The copy's size.
    pub bytes: u64,
}
