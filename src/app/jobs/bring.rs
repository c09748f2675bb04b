//! A profile's file is looked for, looked into, brought in, or written.

use std::path::{Path, PathBuf};

use crate::app::jobs::crew::Crew;
use crate::app::jobs::job::{Control, Job, JobFault, Polled, Prepared, Task};
use crate::domain::day::Instant;
use crate::store::bring::{self, Merged, ProfileFile};
use crate::store::{Store, StoreError};

const TASK: Task<Errand, Result<Done, StoreError>> = Task { thread: Some("bringing"), stack: None, limit: None, work };

/// What is wished.
#[derive(Debug, Clone, PartialEq)]
pub enum Wish {
    /// Find files on sticks and in this folder.
    Find(PathBuf),
    /// Look what bringing this file in would change.
    Look(PathBuf),
    /// Bring in a file that was looked into; another learner's where it is one.
    Take(Box<ProfileFile>, bool),
    /// Write the profile into this file.
    Write(PathBuf),
}

/// What it came to.
pub enum Done {
    /// Files that were found, and the folder that one is best written into.
    Found(Vec<PathBuf>, PathBuf),
    /// What a file holds, and what would be changed.
    Looked(Box<ProfileFile>, Box<Merged>),
    /// What was brought in.
    Taken(Box<Merged>),
    /// What was written.
    Written(Box<ProfileFile>),
}

struct Errand {
    wish: Wish,
    store: Store,
    now: Instant,
}

fn work(Errand { wish, store, now }: Errand, _: &Control) -> Result<Done, StoreError> {
    Ok(match wish {
        Wish::Find(home) => find(&home),
        Wish::Look(file) => {
            let looked = bring::look(&file)?;
            let would = store.would_bring(looked.clone(), now).wait()?;
            Done::Looked(Box::new(looked), Box::new(would))
        }
        Wish::Take(file, mixing) => Done::Taken(Box::new(store.bring(*file, mixing, now).wait()?)),
        Wish::Write(to) => Done::Written(Box::new(store.write_profile(to, now).wait()?)),
    })
}

fn find(home: &Path) -> Done {
    let sticks = bring::sticks();
    let to = sticks.first().cloned().unwrap_or_else(|| home.to_owned());
    let folders: Vec<PathBuf> = sticks.into_iter().chain([home.to_owned()]).collect();
    Done::Found(bring::files_in(&folders), to)
}

/// The errand, as far as it has come, and what earlier ones have told.
pub struct BringJob {
    job: Job<Wish, Errand, Result<Done, StoreError>>,
    /// Files that were found.
    pub(in crate::app) found: Vec<PathBuf>,
    /// The folder that one is best written into.
    pub(in crate::app) to: Option<PathBuf>,
    /// The file that was looked into, and what would be changed.
    pub(in crate::app) looked: Option<(ProfileFile, Merged)>,
}

impl BringJob {
    pub(super) fn new(crew: &Crew) -> Self {
        Self { job: Job::new(TASK, crew.clone()), found: Vec::new(), to: None, looked: None }
    }

    /// Has something done; not while something else is.
    pub(in crate::app) fn request(&mut self, wish: Wish, store: &Store, now: Instant) {
        if !self.job.is_busy() {
            self.job.cancel();
            let store = store.clone();
            self.job.request(wish, now, |wish| Prepared::Ready(Errand { wish: wish.clone(), store, now }));
        }
    }

    /// What is being done.
    pub(in crate::app) fn doing(&self) -> Option<&Wish> {
        self.job.question().filter(|_| self.job.is_busy())
    }

    pub(super) fn poll(&mut self, now: Instant) -> Option<Result<Done, JobFault>> {
        (self.job.poll(now) == Polled::Ended).then(|| self.take()).flatten()
    }

    pub(super) fn wait(&mut self) -> Option<Result<Done, JobFault>> {
        (self.job.wait() == Polled::Ended).then(|| self.take()).flatten()
    }

    fn take(&mut self) -> Option<Result<Done, JobFault>> {
        let done = self.job.take()?;
        Some(done.and_then(|done| done.map_err(JobFault::Store)))
    }

    pub(super) fn cancel(&mut self) {
        self.job.cancel();
        self.looked = None;
    }
}
