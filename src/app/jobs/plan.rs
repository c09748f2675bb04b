//! The plan to the oral, worked out while its page is in front, with progress and stop.

use crate::app::jobs::basis::{Answers, Basis, history, pool};
use crate::app::jobs::crew::Crew;
use crate::app::jobs::job::{Control, Job, JobFault, Polled, Prepared, Task};
use crate::app::profile::learner::Learner;
use crate::app::profile::shelf::Shelf;
use crate::domain::attempt::Attempt;
use crate::domain::day::{Instant, StudyDay};
use crate::domain::memory::model::Model;
use crate::domain::readiness::{History, PlanQuestion, Planned};
use crate::store::{Store, Ticket};

const TASK: Task<Inquiry, Option<Planned>> = Task { thread: Some("plan"), stack: None, limit: None, work };

/// What a plan is worked out from.
struct Inquiry {
    history: History,
    model: Model,
    question: PlanQuestion,
}

fn work(inquiry: Inquiry, control: &Control) -> Option<Planned> {
    inquiry.question.work_out(&inquiry.history, &mut |share| control.tell(share))
}

/// Has the answers so far read, on the store's thread.
fn prepare(
    store: &Store,
    learner: &Learner,
    shelf: &Shelf,
    (today, oral): (StudyDay, StudyDay),
    minutes: u32,
) -> Ticket<Inquiry> {
    let cards = learner.plan_cards(shelf, today);
    // Recall of each card comes from the plan's forecast.
    let pool = pool(learner, shelf, oral, |_| None);
    let question = PlanQuestion::of(cards, pool, today, minutes, learner.spent(today), learner.model.clone());
    let inquiry = Inquiry { history: history(learner, shelf), model: learner.model.clone(), question };
    let mut answers = Answers::of(learner, shelf);
    store.fold_attempts(inquiry, move |inquiry: &mut Inquiry, attempt: Attempt| {
        answers.take_in(&mut inquiry.history, attempt, &inquiry.model);
    })
}

/// The plan, as far as it has come.
pub struct PlanJob {
    job: Job<(Basis, u32), Inquiry, Option<Planned>>,
    tried: Option<u32>,
    stopped: Option<(Basis, u32)>,
}

impl PlanJob {
    pub(super) fn new(crew: &Crew) -> Self {
        Self { job: Job::new(TASK, crew.clone()), tried: None, stopped: None }
    }

    /// The plan; none while it is being worked out, where it was stopped, and where it could not be worked out.
    pub fn done(&self) -> Option<&Planned> {
        self.job.result()?.ok()?.as_ref()
    }

    /// How far it is, 0 to 1; none where nothing is being worked out.
    pub fn progress(&self) -> Option<f64> {
        self.job.progress()
    }

    /// Whether the learner stopped it before it was done.
    pub fn is_stopped(&self) -> bool {
        self.stopped.is_some()
    }

    /// Why it could not be worked out.
    pub fn fault(&self) -> Option<&JobFault> {
        self.job.fault()
    }

    /// Minutes a day that are tried; none for those of the settings.
    pub fn tried(&self) -> Option<u32> {
        self.tried
    }

    /// Tries other minutes a day. What was stopped or has failed begins again, though nothing else has changed.
    pub(in crate::app) fn try_minutes(&mut self, minutes: u32) {
        self.tried = Some(minutes);
        self.stopped = None;
        self.job.ask_again();
    }

    /// Stops working it out.
    pub(in crate::app) fn stop(&mut self) {
        if self.job.is_busy() {
            self.stopped = self.job.question().cloned();
            self.job.cancel();
        }
    }

    /// Has the plan worked out anew where what it rests on has changed; without a day ahead there is none.
    pub(in crate::app) fn request(&mut self, learner: &Learner, store: &Store, shelf: &Shelf, now: Instant) {
        let today = learner.day(now);
        let Some(oral) = learner.settings.oral.filter(|oral| *oral > today) else {
            if self.job.question().is_some() || self.stopped.is_some() {
                self.job.cancel();
                (self.tried, self.stopped) = (None, None);
            }
            return;
        };
        let asked = (Basis::of(learner, shelf, today), self.tried.unwrap_or(learner.settings.minutes));
        if self.stopped.as_ref() == Some(&asked) {
            return;
        }
        self.stopped = None;
        self.job.request(asked, now, |(_, minutes)| {
            Prepared::Asked(prepare(store, learner, shelf, (today, oral), *minutes))
        });
    }

    pub(super) fn poll(&mut self, now: Instant) -> Polled {
        self.job.poll(now)
    }

    pub(super) fn wait(&mut self) -> Polled {
        self.job.wait()
    }

    pub(super) fn ask_again(&mut self) {
        self.job.ask_again();
    }
}

#[cfg(test)]
mod tests {

    use super::*;
    use crate::app::program::Program;
    use crate::app::program::app::App;
    use crate::app::program::command::{Command, PlanCommand, ProfileCommand};
    use crate::app::program::route::Route;
    use crate::app::program::setup::Setup;
    use crate::domain::certificate::Certificate;
    use crate::present::View;
    use crate::present::plan::PlanState;

    /// The page must not seem to work for ever.
    #[test]
    fn a_plan_that_breaks_off_says_so_on_its_page_and_is_worked_out_when_asked_again() {
        let home = tempfile::tempdir().expect("a temporary folder");
        let mut app = App::start(Setup::on(home.path()));
        app.settle();
        let oral = Some(Instant(1_800_000_000_000).study_day(Default::default()).plus(10));
        app.handle(Command::Profile(ProfileCommand::FinishFirstRun {
            certificate: Certificate::Watch,
            oral,
            minutes: 5,
            watch: false,
        }));
        let breaks = Task { work: |_, _| panic!("as asked"), ..TASK };
        app.jobs.plan.job = Job::new(breaks, app.crew());
        app.handle(Command::Go(Route::Plan));
        app.settle();
        let state = |app: &mut App| match &app.view().view {
            View::Plan(view) => view.state.clone(),
            other => panic!("no plan: {other:?}"),
        };
        assert_eq!(state(&mut app), PlanState::Stopped);
        let told = app.view().notice.as_ref().map(|notice| notice.text.clone()).unwrap_or_default();
        assert!(told.starts_with("The plan could not be worked out: the program’s own work broke off."), "{told}");
        let minutes = match &app.view().view {
            View::Plan(view) => view.minutes,
            other => panic!("no plan: {other:?}"),
        };
        // The same question, to a thread that works.
        app.jobs.plan.job.mend(TASK);
        app.handle(Command::Plan(PlanCommand::TryMinutes(minutes)));
        app.settle();
        assert!(matches!(state(&mut app), PlanState::Ready(_)));
    }
}
