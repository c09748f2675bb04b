//! Profiles on a stick: one of a kind that knows no rights and no links, and one that is taken out in the middle of a watch.
//! The sticks are loop devices, so that the tests need the right to mount one.

use std::path::{Path, PathBuf};
use std::process::Command;

use bedplate::store::{Store, StoreError};

use super::basics::{NOW, attempt, known, options};
use super::full::SmallDisk;

/// A stick of some kind, in a small disk of its own that can be filled up.
pub struct Stick {
    holder: SmallDisk,
    place: tempfile::TempDir,
    image: PathBuf,
}

fn run(program: &str, arguments: &[&str]) {
    let out = Command::new(program).args(arguments).output().unwrap_or_else(|e| panic!("{program}: {e}"));
    assert!(out.status.success(), "{program} {arguments:?}: {}", String::from_utf8_lossy(&out.stderr));
}

impl Stick {
    /// A stick formatted by a program such as `mkfs.ext4`.
    pub fn new(format: &str) -> Self {
        let holder = SmallDisk::mount("80m");
        let image = holder.path().join("stick.img");
        std::fs::File::create(&image).unwrap().set_len(24 << 20).unwrap();
        let text = image.to_str().unwrap().to_owned();
        match format.ends_with("ext4") {
            true => run(format, &["-q", "-F", &text]),
            false => run(format, &[&text]),
        }
        let stick = Self { holder, place: tempfile::tempdir().unwrap(), image };
        stick.put_in();
        stick
    }

    pub fn path(&self) -> &Path {
        self.place.path()
    }

    fn put_in(&self) {
        run("mount", &["-o", "loop", self.image.to_str().unwrap(), self.path().to_str().unwrap()]);
    }

    /// Pulls the stick out: what had reached it is on it, and nothing can be read or written any more.
    pub fn pull(&mut self) {
        let saved = self.holder.path().join("pulled.img");
        std::fs::copy(&self.image, &saved).unwrap();
        std::fs::File::options().write(true).open(&self.image).unwrap().set_len(0).unwrap();
        self.holder.fill(0);
        self.image = saved;
    }

    /// The system notices that the stick is out: its folder is empty.
    pub fn notice(&self) {
        run("umount", &["-l", self.path().to_str().unwrap()]);
    }

    /// Puts it back in.
    pub fn put_back(&self) {
        std::fs::remove_file(self.holder.filler()).unwrap();
        self.put_in();
    }
}

impl Drop for Stick {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg("-l").arg(self.path()).output();
    }
}

#[test]
#[ignore = "needs the right to mount a stick; `.ci/run` runs it where that is given"]
fn a_profile_lives_on_a_stick_of_the_usual_kind() {
    let stick = Stick::new("mkfs.vfat");
    let dir = stick.path().join("bedplate-home/profiles/k-vane");
    let all: Vec<_> = (0..12).map(|n| attempt("drain", n)).collect();
    for a in &all {
        let opened = Store::open(options(&dir, NOW)).unwrap_or_else(|e| panic!("{e}"));
        opened.store.record(a.clone(), known(a, 1)).wait().unwrap();
    }
    let opened = Store::open(options(&dir, NOW)).unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(opened.store.attempts(None, usize::MAX).wait().unwrap(), all);
    assert!(Store::open(options(&dir, NOW)).is_err(), "one window at a time");
    let file = opened.store.write_profile(stick.path().join("mine.profile"), NOW).wait().unwrap();
    assert_eq!(file.counts.answers, 12);
}

#[test]
#[ignore = "needs the right to mount a stick; `.ci/run` runs it where that is given"]
fn a_stick_that_is_taken_out_loses_nothing_and_goes_on_when_it_is_back() {
    for (without_log, noticed) in [(false, true), (true, true), (false, false), (true, false)] {
        let mut stick = Stick::new("mkfs.ext4");
        let dir = stick.path().join("profiles/k-vane");
        if without_log {
            super::journal::without_log(&dir);
        }
        let opened = Store::open(options(&dir, NOW)).unwrap_or_else(|e| panic!("{e}"));
        let store = &opened.store;
        let mut kept = Vec::new();
        for n in 0..5 {
            let a = attempt("drain", n);
            store.record(a.clone(), known(&a, 1)).wait().unwrap();
            kept.push(a);
        }
        stick.pull();
        if noticed {
            stick.notice();
        }
        let refused = attempt("drain", 9);
        for _ in 0..3 {
            let told = store.record(refused.clone(), known(&refused, 1)).wait();
            let error = told.expect_err("nothing can be kept");
            let is_of_disk =
                matches!(error, StoreError::DiskGone { .. } | StoreError::Io { .. } | StoreError::NotWritable { .. });
            assert!(is_of_disk, "log {without_log}, noticed {noticed}: {error:?}");
            assert!(!noticed || error.to_string().contains("Put it back"), "{error}");
        }
        if !noticed {
            stick.notice();
        }
        stick.put_back();
        // At the second press at the latest: the first may be the one by which it is found out.
        let first = store.record(refused.clone(), known(&refused, 1)).wait();
        let again = attempt("drain", 10);
        store.record(again.clone(), known(&again, 1)).wait().unwrap_or_else(|e| panic!("log {without_log}: {e}"));
        kept.extend(first.is_ok().then_some(refused));
        kept.push(again);
        assert_eq!(store.attempts(None, usize::MAX).wait().unwrap(), kept, "log {without_log}, noticed {noticed}");
        assert!(Store::open(options(&dir, NOW)).is_err(), "it is locked there, too");
        drop(opened);
        let opened = Store::open(options(&dir, NOW)).unwrap_or_else(|e| panic!("{e}"));
        assert_eq!(opened.store.attempts(None, usize::MAX).wait().unwrap(), kept);
    }
}
