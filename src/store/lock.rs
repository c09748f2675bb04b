//! One window per profile: a lock file that the system frees by itself when the program ends, however it ends.

use std::fs::{File, OpenOptions, TryLockError};
use std::path::Path;

use super::error::{OpenError, StoreError};
use super::files;

/// Held while a profile is open.
pub(super) struct ProfileLock {
    file: File,
}

impl ProfileLock {
    /// Takes the profile's lock.
    ///
    /// # Errors
    /// `InUse` where somebody else holds it; `Store` where the folder cannot be written.
    pub(super) fn take(dir: &Path) -> Result<Self, OpenError> {
        let path = files::lock(dir);
        let doing = "open the profile";
        let file = OpenOptions::new()
            .write(true)
            .create(true)
            .truncate(false)
            .open(&path)
            .map_err(|e| StoreError::from_io(doing, &path, &e))?;
        match file.try_lock() {
            Ok(()) => Ok(Self { file }),
            Err(TryLockError::WouldBlock) => Err(OpenError::InUse { dir: dir.to_owned() }),
            Err(TryLockError::Error(e)) => Err(StoreError::from_io(doing, &path, &e).into()),
        }
    }
}

impl Drop for ProfileLock {
    /// Gives the lock back by name. Only closing the file would leave it with a program that another thread is
    /// just starting, until that program drops the files it was born with.
    fn drop(&mut self) {
        let _ = self.file.unlock();
    }
}
