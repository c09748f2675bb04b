//! A deck that is being written: its folder is watched, and what has changed in it is read and checked anew.
//!
//! Two jobs by turns. One looks at the files' times a few times a second and ends when they are others; the other reads the
//! deck. Nothing of either is done in a frame, and a page that is left ends both.

use std::path::PathBuf;
use std::sync::Arc;
use std::thread::sleep;
use std::time::Duration;

use super::crew::Crew;
use super::job::{Control, Job, JobFault, Polled, Prepared, Task};
use super::reading::Kept;
use crate::app::writing::files::Stamp;
use crate::deck::{Reading, read_deck_by};
use crate::domain::day::Instant;
use crate::domain::marking::Marker;

/// The files are looked at so often.
const BETWEEN: Duration = Duration::from_millis(200);
/// Whether it is still wanted is looked at so often.
const STEP: Duration = Duration::from_millis(40);

const WATCH: Task<(PathBuf, Stamp), ()> = Task { thread: Some("writing-watch"), stack: None, limit: None, work: watch };
/// A folder, and the trained reader where there is one.
type ToRead = (PathBuf, Option<Arc<Kept>>);
/// A deck, and how its files stood before it was read.
type Come = (Stamp, Reading);

const READ: Task<ToRead, Come> = Task { thread: Some("writing-read"), stack: None, limit: None, work: read };

fn watch((folder, stamp): (PathBuf, Stamp), control: &Control) {
    loop {
        let mut waited = Duration::ZERO;
        while waited < BETWEEN {
            if !control.is_wanted() {
                return;
            }
            sleep(STEP);
            waited += STEP;
        }
        if Stamp::of(&folder) != stamp {
            return;
        }
    }
}

fn read((folder, kept): ToRead, _: &Control) -> Come {
    // Before reading: what changes meanwhile is seen by the watch.
    let stamp = Stamp::of(&folder);
    let reader = kept.and_then(|kept| kept.get().ok());
    let marker = reader.as_deref().map_or_else(Marker::default, Marker::with);
    (stamp, read_deck_by(&folder, marker))
}

/// The folder that is watched.
pub struct WritingJob {
    watching: Job<(PathBuf, Stamp), (PathBuf, Stamp), ()>,
    reading: Job<(PathBuf, Option<Stamp>), ToRead, Come>,
    /// What is watched, and how its files stood when they were last read.
    folder: Option<(PathBuf, Option<Stamp>)>,
    kept: Option<Arc<Kept>>,
}

impl WritingJob {
    pub(super) fn new(crew: &Crew) -> Self {
        Self {
            watching: Job::new(WATCH, crew.clone()),
            reading: Job::new(READ, crew.clone()),
            folder: None,
            kept: None,
        }
    }

    /// Has a folder read, and watched from then on; samples are marked by the trained reader too, where it is given.
    pub(in crate::app) fn request(&mut self, folder: &PathBuf, kept: Option<Arc<Kept>>, now: Instant) {
        self.kept = kept;
        if self.folder.as_ref().is_none_or(|(of, _)| of != folder) {
            self.cancel();
            self.folder = Some((folder.clone(), None));
        }
        match &self.folder {
            Some((folder, Some(stamp))) if !self.reading.is_busy() => {
                let question = (folder.clone(), stamp.clone());
                self.watching.request(question, now, |question| Prepared::Ready(question.clone()));
            }
            Some((_, None)) => self.read(now),
            _ => {}
        }
    }

    fn read(&mut self, now: Instant) {
        let (Some((folder, stamp)), kept) = (&self.folder, self.kept.clone()) else { return };
        self.reading
            .request((folder.clone(), stamp.clone()), now, |(folder, _)| Prepared::Ready((folder.clone(), kept)));
    }

    /// The folder is left: nothing of it is watched any more. It is read again when it is asked for again.
    pub(in crate::app) fn cancel(&mut self) {
        self.watching.cancel();
        self.reading.cancel();
        self.folder = None;
    }

    pub(super) fn poll(&mut self, now: Instant) -> Option<Result<Reading, JobFault>> {
        if self.watching.poll(now) == Polled::Ended {
            self.watching.cancel();
            self.read(now);
        }
        (self.reading.poll(now) == Polled::Ended).then(|| self.ended()).flatten()
    }

    /// Blocks until what has changed is read; that nothing changes is not waited for.
    pub(super) fn wait(&mut self, now: Instant) -> Option<Result<Reading, JobFault>> {
        if let Some((folder, Some(stamp))) = &self.folder
            && !self.reading.is_busy()
            && Stamp::of(folder) != *stamp
        {
            self.watching.cancel();
            self.read(now);
        }
        (self.reading.wait() == Polled::Ended).then(|| self.ended()).flatten()
    }

    fn ended(&mut self) -> Option<Result<Reading, JobFault>> {
        match self.reading.take()? {
            Ok((stamp, reading)) => {
                if let Some((_, was)) = &mut self.folder {
                    *was = Some(stamp);
                }
                Some(Ok(reading))
            }
            Err(fault) => {
                // It is tried again when the files have changed.
                if let Some((folder, was)) = &mut self.folder {
                    *was = Some(Stamp::of(folder));
                }
                Some(Err(fault))
            }
        }
    }
}
