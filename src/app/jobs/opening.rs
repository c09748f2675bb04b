//! The decks are read and the profile is opened.

use crate::app::jobs::crew::Crew;
use crate::app::jobs::job::{Control, Job, JobFault, Polled, Prepared, Task};
use crate::app::profile::opening::{Failure, Opening, Ready, open_in_time};
use crate::app::program::setup::Setup;
use crate::domain::day::Instant;
use crate::svg;

const TASK: Task<Start, Option<Result<Ready, Failure>>> =
    Task { thread: Some("opening"), stack: None, limit: None, work };

/// What is opened, and how.
struct Start {
    setup: Setup,
    now: Instant,
    opening: Opening,
}

/// None where it is no longer wanted.
fn work(Start { setup, now, opening }: Start, control: &Control) -> Option<Result<Ready, Failure>> {
    let stop = svg::Stop::by(control.flag());
    svg::until(&stop, || open_in_time(&setup, now, opening, || control.is_wanted()))
}

/// The opening, as far as it has come.
pub struct OpeningJob(Job<(), Start, Option<Result<Ready, Failure>>>);

impl OpeningJob {
    pub(super) fn new(crew: &Crew) -> Self {
        Self(Job::new(TASK, crew.clone()))
    }

    /// Has the setup's profile opened.
    pub(in crate::app) fn request(&mut self, setup: Setup, opening: Opening, now: Instant) {
        self.0.cancel();
        self.0.request((), now, |()| Prepared::Ready(Start { setup, now, opening }));
    }

    pub(super) fn poll(&mut self, now: Instant) -> Option<Result<Result<Ready, Failure>, JobFault>> {
        (self.0.poll(now) == Polled::Ended).then(|| self.take()).flatten()
    }

    pub(super) fn wait(&mut self) -> Option<Result<Result<Ready, Failure>, JobFault>> {
        (self.0.wait() == Polled::Ended).then(|| self.take()).flatten()
    }

    fn take(&mut self) -> Option<Result<Result<Ready, Failure>, JobFault>> {
        self.0.take()?.transpose()
    }

    pub(super) fn cancel(&mut self) {
        self.0.cancel();
    }
}
