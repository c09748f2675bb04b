//! Decks whose drawings were not all read when the first page came: they are read whole, one after the other.

use std::collections::VecDeque;
use std::path::PathBuf;

use crate::app::jobs::crew::Crew;
use crate::app::jobs::job::{Control, Job, JobFault, Polled, Prepared, Task};
use crate::deck::{Reading, read_deck_to_ask};
use crate::domain::day::Instant;
use crate::svg;

const TASK: Task<PathBuf, Reading> = Task { thread: Some("decks"), stack: None, limit: None, work };

fn work(folder: PathBuf, control: &Control) -> Reading {
    svg::until(&svg::Stop::by(control.flag()), || read_deck_to_ask(&folder))
}

/// A deck that was on its way: its folder, and what reading it gave.
pub struct DeckRead {
    /// Where it lies.
    pub folder: PathBuf,
    /// What it holds.
    pub reading: Result<Reading, JobFault>,
}

/// The decks that are on their way.
pub struct DecksJob {
    rest: VecDeque<PathBuf>,
    job: Job<PathBuf, PathBuf, Reading>,
}

impl DecksJob {
    pub(super) fn new(crew: &Crew) -> Self {
        Self { rest: VecDeque::new(), job: Job::new(TASK, crew.clone()) }
    }

    /// Has these read; what was on its way before no longer counts.
    pub(in crate::app) fn request(&mut self, folders: Vec<PathBuf>, now: Instant) {
        self.job.cancel();
        self.rest = folders.into();
        self.begin(now);
    }

    /// Has one more read, after those that are on their way.
    pub(in crate::app) fn add(&mut self, folder: PathBuf, now: Instant) {
        self.rest.push_back(folder);
        if self.job.question().is_none() {
            self.begin(now);
        }
    }

    fn begin(&mut self, now: Instant) {
        if let Some(folder) = self.rest.pop_front() {
            self.job.request(folder, now, |folder| Prepared::Ready(folder.clone()));
        }
    }

    /// The next one, where it has come.
    pub(super) fn poll(&mut self, now: Instant) -> Option<DeckRead> {
        (self.job.poll(now) == Polled::Ended).then(|| self.next(now)).flatten()
    }

    /// The next one, waited for; none once all have come.
    pub(super) fn wait(&mut self, now: Instant) -> Option<DeckRead> {
        (self.job.wait() == Polled::Ended).then(|| self.next(now)).flatten()
    }

    fn next(&mut self, now: Instant) -> Option<DeckRead> {
        let folder = self.job.question()?.clone();
        let reading = self.job.take()?;
        self.begin(now);
        Some(DeckRead { folder, reading })
    }

    pub(super) fn cancel(&mut self) {
        self.rest.clear();
        self.job.cancel();
    }
}
