//! A full disk: said clearly, nothing lost, and the work goes on once there is room.

use std::path::{Path, PathBuf};
use std::process::Command;

use bedplate::domain::settings::Settings;
use bedplate::store::{Notice, Store, StoreError};

use super::basics::{attempt, known, open};

/// Fills the profile until it refuses, then makes room and goes on.
fn fill_and_go_on(store: &Store, make_room: impl FnOnce()) {
    let mut kept = Vec::new();
    let refused = loop {
        let a = attempt(&format!("card-{}", kept.len()), kept.len() as i64);
        match store.record(a.clone(), known(&a, 1)).wait() {
            Ok(()) => kept.push(a),
            Err(error) => {
                assert!(matches!(error, StoreError::DiskFull { .. }), "{error:?}");
                assert!(error.to_string().contains("full. Free some space"), "{error}");
                break a;
            }
        }
        assert!(kept.len() < 100_000, "the disk never fills");
    };
    assert!(!kept.is_empty(), "there was room for some");
    assert_eq!(store.attempts(None, usize::MAX).wait().unwrap(), kept, "nothing of the refused one is there");
    assert!(store.record(refused.clone(), known(&refused, 1)).wait().is_err(), "still full");
    make_room();
    store.record(refused.clone(), known(&refused, 1)).wait().unwrap();
    kept.push(refused);
    assert_eq!(store.attempts(None, usize::MAX).wait().unwrap(), kept, "the caller still had it and tried again");
}

#[test]
fn a_file_that_may_not_grow_refuses_and_goes_on() {
    let dir = tempfile::tempdir().unwrap();
    let opened = open(dir.path());
    let pages = std::fs::metadata(dir.path().join("profile.sqlite")).unwrap().len() / 4096;
    opened.store.limit_pages(Some(pages as u32 + 12)).wait().unwrap();
    let store = opened.store.clone();
    fill_and_go_on(&opened.store, || {
        let settings = Settings { minutes: 55, ..Settings::default() };
        store.save_settings(&settings, super::basics::NOW).wait().expect("what needs no room is still kept");
        store.limit_pages(None).wait().unwrap();
    });
    let count = opened.store.attempts(None, usize::MAX).wait().unwrap().len();
    drop((opened, store));
    let opened = open(dir.path());
    assert_eq!((opened.attempts_count, opened.memory.len()), (count as u64, count));
    assert_eq!(opened.settings.minutes, 55);
}

/// A small disk in memory, taken away again at the end.
pub(crate) struct SmallDisk(tempfile::TempDir);

impl SmallDisk {
    pub(crate) fn mount(size: &str) -> Self {
        let disk = Self(tempfile::tempdir().unwrap());
        let mut mount = Command::new("mount");
        mount.args(["-t", "tmpfs", "-o", &format!("size={size}"), "tmpfs"]).arg(disk.path());
        let out = mount.output().expect("there is a program `mount`");
        assert!(out.status.success(), "a small disk is mounted: {}", String::from_utf8_lossy(&out.stderr));
        disk
    }

    pub(crate) fn path(&self) -> &Path {
        self.0.path()
    }

    /// Changes how it is mounted, such as `ro` or `size=64m`.
    pub(crate) fn remount(&self, how: &str) {
        let mut mount = Command::new("mount");
        let out = mount.args(["-o", &format!("remount,{how}")]).arg(self.path()).output().expect("a program `mount`");
        assert!(out.status.success(), "the disk is mounted {how}: {}", String::from_utf8_lossy(&out.stderr));
    }

    pub(crate) fn filler(&self) -> PathBuf {
        self.path().join("filler")
    }

    /// Leaves no more than about this many bytes free.
    pub(crate) fn fill(&self, leave: usize) {
        use std::io::Write;
        let mut filler = std::fs::File::create(self.filler()).unwrap();
        let block = [0u8; 4096];
        let mut written = 0u64;
        while filler.write_all(&block).is_ok() {
            written += 4096;
        }
        filler.set_len(written.saturating_sub(leave as u64)).unwrap();
    }
}

impl Drop for SmallDisk {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(self.path()).output();
    }
}

#[test]
#[ignore = "needs the right to mount a small disk; `.ci/run` runs it where that is given"]
fn a_full_disk_refuses_and_goes_on() {
    let disk = SmallDisk::mount("2m");
    let dir = disk.path().join("k-vane");
    let opened = open(&dir);
    // The start's backup is done before the disk is filled.
    while opened.store.take_notices().is_empty() {
        std::thread::yield_now();
    }
    disk.fill(100_000);
    fill_and_go_on(&opened.store, || std::fs::remove_file(disk.filler()).unwrap());
    let count = opened.store.attempts(None, usize::MAX).wait().unwrap().len() as u64;
    drop(opened);
    // Full again at a start: it opens, and says that no backup was made.
    disk.fill(80_000);
    let opened = open(&dir);
    assert_eq!(opened.attempts_count, count);
    let notice = loop {
        match opened.store.take_notices().pop() {
            Some(notice) => break notice,
            None => std::thread::yield_now(),
        }
    };
    assert!(matches!(notice, Notice::BackupFailed(StoreError::DiskFull { .. })), "{notice:?}");
    drop(opened);
    let left: Vec<_> = std::fs::read_dir(dir.join("backups")).unwrap().map(|e| e.unwrap().file_name()).collect();
    assert_eq!(left.len(), 1, "the half-made copy gives its room back: {left:?}");
}

#[test]
#[ignore = "needs the right to mount a small disk; `.ci/run` runs it where that is given"]
fn a_disk_without_room_for_a_new_profile_is_named() {
    let disk = SmallDisk::mount("256k");
    disk.fill(8192);
    let error = match Store::open(super::basics::options(&disk.path().join("k-vane"), super::basics::NOW)) {
        Ok(_) => panic!("there is no room for a profile"),
        Err(error) => error,
    };
    assert!(error.to_string().contains("is full"), "{error}");
    std::fs::remove_file(disk.filler()).unwrap();
    assert_eq!(open(&disk.path().join("k-vane")).attempts_count, 0, "with room it is made");
}

/// A disk that may only be read: the open is refused and says why.
#[test]
#[ignore = "needs the right to mount a small disk; `.ci/run` runs it where that is given"]
fn a_write_protected_disk_is_named() {
    let disk = SmallDisk::mount("2m");
    let dir = disk.path().join("k-vane");
    drop(open(&dir));
    disk.remount("ro");
    let error = match Store::open(super::basics::options(&dir, super::basics::NOW)) {
        Ok(_) => panic!("nothing can be kept here"),
        Err(error) => error.to_string(),
    };
    assert!(error.contains("may not be written") && error.contains("BEDPLATE_HOME"), "{error}");
}
