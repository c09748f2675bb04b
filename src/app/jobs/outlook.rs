//! The chance of passing with what lies behind it, worked out of all answers while a page that shows it is in front.

use crate::app::jobs::basis::{Answers, Basis, history, pool, topics};
use crate::app::jobs::crew::Crew;
use crate::app::jobs::job::{Control, Job, JobFault, Polled, Prepared, Task};
use crate::app::profile::learner::Learner;
use crate::app::profile::shelf::Shelf;
use crate::domain::attempt::Attempt;
use crate::domain::day::{Instant, StudyDay};
use crate::domain::memory::model::Model;
use crate::domain::readiness::{History, Outlook, Pool};
use crate::store::{Store, StoreError, Ticket};

const TASK: Task<Inquiry, Outlook> = Task { thread: Some("outlook"), stack: None, limit: None, work };

/// What an outlook is worked out from.
struct Inquiry {
    history: History,
    today: Pool,
    on_day: Option<Pool>,
    model: Model,
}

fn work(inquiry: Inquiry, _: &Control) -> Outlook {
    let Inquiry { history, today, on_day, model } = inquiry;
    Outlook::of(&today, on_day.as_ref(), history, &model)
}

/// Has the answers so far read, on the store's thread.
fn prepare(store: &Store, learner: &Learner, shelf: &Shelf, today: StudyDay) -> Ticket<Inquiry> {
    let oral = |day: StudyDay| pool(learner, shelf, day, |card| learner.recall(&card.key, day));
    let inquiry = Inquiry {
        history: history(learner, shelf).with_trends(topics(shelf), today),
        today: oral(today),
        on_day: learner.settings.oral.filter(|day| *day > today).map(oral),
        model: learner.model.clone(),
    };
    let mut answers = Answers::of(learner, shelf);
    store.fold_attempts(inquiry, move |inquiry: &mut Inquiry, attempt: Attempt| {
        answers.take_in(&mut inquiry.history, attempt, &inquiry.model);
    })
}

/// The outlook of a learner, worked out on this thread: for commands.
///
/// # Errors
/// Where the answers cannot be read.
pub fn work_out(store: &Store, learner: &Learner, shelf: &Shelf, today: StudyDay) -> Result<Outlook, StoreError> {
    let Inquiry { history, today, on_day, model } = prepare(store, learner, shelf, today).wait()?;
    Ok(Outlook::of(&today, on_day.as_ref(), history, &model))
}

/// The outlook, as far as it has come.
pub struct OutlookJob(Job<Basis, Inquiry, Outlook>);

impl OutlookJob {
    pub(super) fn new(crew: &Crew) -> Self {
        Self(Job::new(TASK, crew.clone()))
    }

    /// The outlook; none while it is being worked out, and where it could not be.
    pub fn get(&self) -> Option<&Outlook> {
        self.0.result()?.ok()
    }

    /// The outlook, none while it is being worked out; or why it could not be.
    pub fn so_far(&self) -> Result<Option<&Outlook>, &JobFault> {
        self.0.result().transpose()
    }

    /// Why it could not be worked out.
    pub fn fault(&self) -> Option<&JobFault> {
        self.0.fault()
    }

    /// Has the outlook worked out anew where what it rests on has changed.
    pub(in crate::app) fn request(&mut self, learner: &Learner, store: &Store, shelf: &Shelf, now: Instant) {
        let today = learner.day(now);
        self.0
            .request(Basis::of(learner, shelf, today), now, |_| Prepared::Asked(prepare(store, learner, shelf, today)));
    }

    pub(super) fn poll(&mut self, now: Instant) -> Polled {
        self.0.poll(now)
    }

    pub(super) fn wait(&mut self) -> Polled {
        self.0.wait()
    }

    pub(super) fn ask_again(&mut self) {
        self.0.ask_again();
    }
}
