//! One window per profile: a lock that the system frees by itself when the program ends, however it ends.
//!
//! It lies on a file of its own and, where the system allows it, on the profile's folder as well: a lock file that
//! somebody tidies away lets nobody else in.

use std::fs::{File, TryLockError};
use std::path::Path;

use super::error::{OpenError, StoreError};
use super::{files, rights};

/// Held while a profile is open.
pub(super) struct ProfileLock {
    file: File,
    folder: Option<File>,
}

impl ProfileLock {
    /// Takes the profile's lock.
    ///
    /// # Errors
    /// `InUse` where somebody else holds it; `Store` where the folder cannot be written.
    pub(super) fn take(dir: &Path) -> Result<Self, OpenError> {
        let lock = Self::at(dir, &files::lock(dir), "open the profile")?;
        lock.ok_or_else(|| OpenError::InUse { dir: dir.to_owned() })
    }

    /// Takes a lock on a folder by the file `path` in it; none where somebody else holds it.
    ///
    /// # Errors
    /// Where the folder cannot be written.
    pub(super) fn at(dir: &Path, path: &Path, doing: &str) -> Result<Option<Self>, StoreError> {
        let file = rights::open_or_create(path).map_err(|e| StoreError::from_io(doing, path, &e))?;
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => return Ok(None),
            Err(TryLockError::Error(e)) => return Err(StoreError::from_io(doing, path, &e)),
        }
        match lock_folder(dir) {
            Ok(folder) => Ok(Some(Self { file, folder })),
            Err(InUse) => {
                // Before the file is closed, as in `drop`.
                let _ = file.unlock();
                Ok(None)
            }
        }
    }
}

struct InUse;

/// Locks the folder itself; none where the system, or the disk, knows no such lock.
#[cfg(unix)]
fn lock_folder(dir: &Path) -> Result<Option<File>, InUse> {
    let Ok(folder) = File::open(dir) else { return Ok(None) };
    match folder.try_lock() {
        Ok(()) => Ok(Some(folder)),
        Err(TryLockError::WouldBlock) => Err(InUse),
        Err(TryLockError::Error(_)) => Ok(None),
    }
}

/// Elsewhere a file that is open cannot be made anew.
#[cfg(not(unix))]
fn lock_folder(_dir: &Path) -> Result<Option<File>, InUse> {
    Ok(None)
}

impl Drop for ProfileLock {
    /// Gives the lock back by name. Only closing the file would leave it with a program that another thread is
    /// just starting, until that program drops the files it was born with.
    fn drop(&mut self) {
        if let Some(folder) = &self.folder {
            let _ = folder.unlock();
        }
        let _ = self.file.unlock();
    }
}
