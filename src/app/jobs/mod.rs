//! All work in the background: one file for each sort of job, and [`Jobs`], which polls, waits for and ends them all.

mod basis;
pub mod bring;
pub mod class;
pub mod crew;
pub mod decks;
pub mod job;
pub mod opening;
pub mod outlook;
pub mod picture;
pub mod plan;
pub mod reading;
pub mod search;
pub mod study;
pub mod taking_in;
pub mod training;
pub mod worksheet;
pub mod writing;

use std::time::Duration;

use crate::app::profile::opening::{Failure, Ready};
use crate::app::reader::Load;
use crate::deck;
use crate::domain::day::Instant;
use crate::domain::marking::reader::Reading;
use crate::store::{Store, Wake};
use bring::{BringJob, Done};
use class::ClassJob;
use crew::Crew;
use decks::{DeckRead, DecksJob};
use job::{JobFault, Polled};
use opening::OpeningJob;
use outlook::OutlookJob;
use picture::PictureJob;
use plan::PlanJob;
use reading::{ReadingEvent, ReadingJob};
use search::{SearchEvent, SearchJob};
use study::StudyJob;
use taking_in::{TakingInEvent, TakingInJob};
use training::{TrainingEvent, TrainingJob};
use worksheet::{WorkOut, WorksheetJob};
use writing::WritingJob;

/// Threads that have been told to end are waited for so long where a profile or the program closes; one that hangs is
/// left to itself after that.
const LONGEST_CLOSING: Duration = Duration::from_secs(2);

/// The jobs of a program.
pub(in crate::app) struct Jobs {
    crew: Crew,
    pub(in crate::app) opening: OpeningJob,
    pub(in crate::app) decks: DecksJob,
    pub(in crate::app) search: SearchJob,
    pub(in crate::app) picture: PictureJob,
    pub(in crate::app) worksheet: WorksheetJob,
    pub(in crate::app) training: TrainingJob,
    pub(in crate::app) outlook: OutlookJob,
    pub(in crate::app) plan: PlanJob,
    pub(in crate::app) class: ClassJob,
    pub(in crate::app) reading: ReadingJob,
    pub(in crate::app) bring: BringJob,
    pub(in crate::app) taking_in: TakingInJob,
    pub(in crate::app) writing: WritingJob,
    pub(in crate::app) study: StudyJob,
}

/// What has come of a job and is not merely shown.
pub(in crate::app) enum JobEvent {
    /// The profile is open, or why it is not.
    Opened(Box<Result<Result<Ready, Failure>, JobFault>>),
    /// A deck whose drawings took long has been read whole.
    DeckRead(Box<DeckRead>),
    /// The deck that is being written has been read.
    DeckWritten(Box<Result<deck::Reading, JobFault>>),
    /// The search's index is of no use.
    SearchLost,
    /// The search failed.
    SearchFailed(JobFault),
    /// A training has ended.
    Trained(TrainingEvent),
    /// The chance of passing could not be worked out.
    OutlookFailed(JobFault),
    /// The plan could not be worked out.
    PlanFailed(JobFault),
    /// The answer of this number has been read; without a reading it is marked by its words alone.
    Read(u64, Option<Reading>),
    /// A deck was taken in, or an edition was brought back, or not.
    TakenIn(TakingInEvent),
    /// There is no trained reader: why.
    NoReader(String),
    /// What is done with a profile's file has come to its end.
    Errand(Result<Done, JobFault>),
}

/// What polling the jobs has brought.
#[derive(Default)]
pub(in crate::app) struct Come {
    /// The screen changes.
    pub(in crate::app) changed: bool,
    /// What is to be dealt with, in this order.
    pub(in crate::app) events: Vec<JobEvent>,
}

impl Come {
    fn polled(&mut self, polled: Polled) {
        self.changed |= polled != Polled::Nothing;
    }

    fn event(&mut self, event: Option<JobEvent>) {
        self.changed |= event.is_some();
        self.events.extend(event);
    }

    fn read(&mut self, events: Vec<ReadingEvent>) {
        self.changed |= !events.is_empty();
        self.events.extend(events.into_iter().map(|event| match event {
            ReadingEvent::Read(number, reading) => JobEvent::Read(number, reading),
            ReadingEvent::NoReader(why) => JobEvent::NoReader(why),
        }));
    }

    fn searched(&mut self, events: Vec<SearchEvent>) {
        self.changed |= !events.is_empty();
        self.events.extend(events.into_iter().filter_map(|event| match event {
            SearchEvent::Found => None,
            SearchEvent::Lost => Some(JobEvent::SearchLost),
            SearchEvent::Failed(fault) => Some(JobEvent::SearchFailed(fault)),
        }));
    }
}

impl Jobs {
    /// None begun; worksheets are worked out by `work_out`, the trained reader is loaded by `load`, and `wake` is called
    /// when there is something to take in.
    pub(in crate::app) fn new(wake: Wake, work_out: WorkOut, load: Option<Load>) -> Self {
        let crew = Crew::new(wake);
        let (picture, worksheet) = (PictureJob::new(&crew), WorksheetJob::new(work_out, &crew));
        Self::of(crew, picture, worksheet, load)
    }

    fn of(crew: Crew, picture: PictureJob, worksheet: WorksheetJob, load: Option<Load>) -> Self {
        Self {
            opening: OpeningJob::new(&crew),
            decks: DecksJob::new(&crew),
            search: SearchJob::new(&crew),
            picture,
            worksheet,
            training: TrainingJob::new(&crew),
            outlook: OutlookJob::new(&crew),
            plan: PlanJob::new(&crew),
            class: ClassJob::new(&crew),
            reading: ReadingJob::new(load, &crew),
            bring: BringJob::new(&crew),
            taking_in: TakingInJob::new(&crew),
            writing: WritingJob::new(&crew),
            study: StudyJob::new(&crew),
            crew,
        }
    }

    /// Those that work for all jobs of this program.
    pub(in crate::app) fn crew(&self) -> &Crew {
        &self.crew
    }

    /// Takes in what has come of all jobs.
    pub(in crate::app) fn poll(&mut self, store: Option<&Store>, now: Instant) -> Come {
        let mut come = Come::default();
        come.event(self.opening.poll(now).map(|answer| JobEvent::Opened(Box::new(answer))));
        come.event(self.decks.poll(now).map(|read| JobEvent::DeckRead(Box::new(read))));
        come.searched(self.search.poll(now));
        come.changed |= self.picture.poll(now);
        come.changed |= self.worksheet.poll(now);
        let outlook = self.outlook.poll(now);
        come.polled(outlook);
        come.event(self.outlook_failed(outlook));
        let plan = self.plan.poll(now);
        come.polled(plan);
        come.event(self.plan_failed(plan));
        come.polled(self.class.poll(now));
        let (training, trained) = self.training.poll(store, now);
        come.polled(training);
        come.event(trained.map(JobEvent::Trained));
        come.read(self.reading.poll(now));
        come.event(self.bring.poll(now).map(JobEvent::Errand));
        let (taking_in, taken) = self.taking_in.poll(now);
        come.polled(taking_in);
        come.event(taken.map(JobEvent::TakenIn));
        come.event(self.writing.poll(now).map(|read| JobEvent::DeckWritten(Box::new(read))));
        come.changed |= self.study.poll(now);
        come
    }

    /// Blocks until every job that was asked for has ended: for faces without frames. What it gives may lead to others.
    pub(in crate::app) fn wait(&mut self, store: Option<&Store>, now: Instant) -> Vec<JobEvent> {
        let mut come = Come::default();
        come.event(self.opening.wait().map(|answer| JobEvent::Opened(Box::new(answer))));
        while let Some(read) = self.decks.wait(now) {
            come.event(Some(JobEvent::DeckRead(Box::new(read))));
        }
        come.searched(self.search.wait());
        self.picture.wait();
        self.worksheet.wait();
        come.event(self.training.wait(store, now).map(JobEvent::Trained));
        let outlook = self.outlook.wait();
        come.event(self.outlook_failed(outlook));
        self.class.wait();
        let plan = self.plan.wait();
        come.event(self.plan_failed(plan));
        come.read(self.reading.wait(now));
        come.event(self.bring.wait().map(JobEvent::Errand));
        come.event(self.taking_in.wait().map(JobEvent::TakenIn));
        come.event(self.writing.wait(now).map(|read| JobEvent::DeckWritten(Box::new(read))));
        self.study.wait();
        come.events
    }

    fn outlook_failed(&self, polled: Polled) -> Option<JobEvent> {
        let fault = self.outlook.fault().filter(|_| polled == Polled::Ended);
        fault.cloned().map(JobEvent::OutlookFailed)
    }

    fn plan_failed(&self, polled: Polled) -> Option<JobEvent> {
        let fault = self.plan.fault().filter(|_| polled == Polled::Ended);
        fault.cloned().map(JobEvent::PlanFailed)
    }

    /// When something that is on its way will be given up.
    pub(in crate::app) fn until(&self, now: Instant) -> Option<Duration> {
        [self.picture.until(now), self.worksheet.until(now), self.reading.until(now)].into_iter().flatten().min()
    }

    /// What failed begins anew when it is requested next.
    pub(in crate::app) fn ask_again(&mut self) {
        self.outlook.ask_again();
        self.plan.ask_again();
        self.class.ask_again();
    }

    /// Ends all, and waits a little until their threads have ended; whether they have.
    pub(in crate::app) fn close(&mut self) -> bool {
        self.opening.cancel();
        self.decks.cancel();
        self.search.cancel();
        self.picture.forget();
        self.training.cancel();
        self.reading.cancel();
        self.bring.cancel();
        self.taking_in = TakingInJob::new(&self.crew);
        self.writing.cancel();
        self.study.cancel();
        (self.worksheet, self.outlook) = (self.worksheet.anew(), OutlookJob::new(&self.crew));
        (self.plan, self.class) = (PlanJob::new(&self.crew), ClassJob::new(&self.crew));
        self.crew.wait_for_all(LONGEST_CLOSING)
    }

    /// Ends all and begins anew for another profile.
    pub(in crate::app) fn reopen(&mut self) {
        self.close();
        self.picture = self.picture.anew();
        (self.search, self.training) = (SearchJob::new(&self.crew), TrainingJob::new(&self.crew));
    }
}

impl Drop for Jobs {
    fn drop(&mut self) {
        self.close();
    }
}
