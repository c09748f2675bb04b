//! Work in the background: what breaks off, fails or takes too long is said and can be asked for again, and nothing goes
//! on that is no longer wanted.

use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;
use std::time::Duration;

use bedplate::app::jobs::crew::Crew;
use bedplate::app::jobs::job::{Control, Job, JobFault, Polled, Prepared, Task};
use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{Command, ProfileCommand, TrainingCommand};
use bedplate::app::program::route::Route;
use bedplate::domain::certificate::Certificate;
use bedplate::domain::day::{Instant, StudyDay};
use bedplate::domain::ids::{AttemptId, CardKey};
use bedplate::domain::memory::CardMemory;
use bedplate::present::plan::PlanState;
use bedplate::present::{Tone, View};
use bedplate::store::{OpenOptions, Store};

use crate::support::home;

/// Longer than any step of the work here takes, however busy the machine is.
const PATIENCE: Duration = Duration::from_secs(60);

/// 2026-11-25T08:00Z.
const MORNING: Instant = Instant(20_782 * 86_400_000 + 8 * 3_600_000);

fn crew() -> Crew {
    Crew::new(Arc::new(|| {}))
}

fn task<P, A>(work: fn(P, &Control) -> A) -> Task<P, A> {
    Task { thread: Some("a job of a test"), stack: None, limit: None, work }
}

/// Polls until something has come.
fn polled<Q: PartialEq, P: Send + 'static, A: Send + 'static>(job: &mut Job<Q, P, A>) -> Polled {
    let begun = std::time::Instant::now();
    loop {
        match job.poll(Instant(0)) {
            Polled::Nothing => assert!(begun.elapsed() < PATIENCE, "nothing comes"),
            polled => return polled,
        }
        thread::yield_now();
    }
}

/// Doubles a number, and breaks off at an odd one.
fn double(number: u32, _: &Control) -> u32 {
    assert!(number.is_multiple_of(2), "as asked");
    2 * number
}

/// Works for as long as it is wanted.
fn endless(_: u32, control: &Control) -> u32 {
    while control.is_wanted() {
        thread::sleep(Duration::from_millis(1));
    }
    0
}

#[test]
fn a_question_is_answered_once_and_another_one_anew() {
    let mut job = Job::new(task(double), crew());
    let ask = |job: &mut Job<u32, u32, u32>, number: u32| job.request(number, Instant(0), |n| Prepared::Ready(*n));
    assert!(ask(&mut job, 4));
    assert!(job.is_busy() && job.result().is_none());
    assert_eq!(polled(&mut job), Polled::Ended);
    assert_eq!(job.result(), Some(Ok(&8)));
    assert!(!ask(&mut job, 4), "it is answered already");
    assert_eq!(job.poll(Instant(0)), Polled::Nothing);
    assert!(ask(&mut job, 6));
    assert_eq!(job.result(), None, "what was answered was another question");
    assert_eq!((job.wait(), job.result()), (Polled::Ended, Some(Ok(&12))));
    assert_eq!(job.take(), Some(Ok(12)));
    assert_eq!((job.question(), job.result()), (None, None), "taken for good");
}

#[test]
fn a_job_that_breaks_off_says_so_and_can_be_asked_again() {
    for waits in [false, true] {
        let mut job = Job::new(task(double), crew());
        job.request("q", Instant(0), |_| Prepared::Ready(1));
        assert_eq!(if waits { job.wait() } else { polled(&mut job) }, Polled::Ended);
        assert_eq!(job.fault(), Some(&JobFault::Panicked));
        assert_eq!(job.progress(), None, "it does not seem to go on");
        assert_eq!(
            JobFault::Panicked.told("The plan", "Ask again"),
            "The plan could not be worked out: the program’s own work broke off. Ask again."
        );
        assert!(!job.request("q", Instant(0), |_| Prepared::Ready(2)), "not by itself, over and over");
        job.ask_again();
        assert!(job.request("q", Instant(0), |_| Prepared::Ready(2)));
        assert_eq!((job.wait(), job.result()), (Polled::Ended, Some(Ok(&4))));
    }
}

#[test]
fn what_the_store_cannot_give_is_told_and_asked_for_again() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let options = OpenOptions { dir: home.path().join("profiles/a"), now: MORNING, wake: Arc::new(|| {}) };
    let store = Store::open(options).expect("it opens").store;
    let void = |id: Option<&str>| {
        let ids = id.into_iter().map(|id| AttemptId(id.to_owned())).collect();
        Prepared::Asked(store.void_attempts(ids, MORNING, |_| None))
    };
    let mut job = Job::new(task(|changed: Vec<(CardKey, Option<CardMemory>)>, _: &Control| changed.len()), crew());
    job.request((), MORNING, |()| void(Some("an attempt that nobody made")));
    assert_eq!(polled(&mut job), Polled::Ended);
    let told = job.fault().map(ToString::to_string).expect("it failed");
    assert!(matches!(job.fault(), Some(JobFault::Store(_))) && told.len() > 20, "{told}");
    job.ask_again();
    assert!(job.request((), MORNING, |()| void(None)));
    assert_eq!((job.wait(), job.result()), (Polled::Ended, Some(Ok(&0))));
}

#[test]
fn what_takes_too_long_is_given_up_said_and_ended() {
    let crew = crew();
    let mut job = Job::new(Task { limit: Some(Duration::from_secs(3)), ..task(endless) }, crew.clone());
    job.request("q", Instant(500), |_| Prepared::Ready(1));
    assert_eq!(job.poll(Instant(3_499)), Polled::Nothing);
    assert_eq!(job.until(Instant(3_499)), Some(Duration::from_millis(1)));
    assert_eq!(job.poll(Instant(3_500)), Polled::Ended);
    assert_eq!((job.fault(), job.until(Instant(3_500))), (Some(&JobFault::TooSlow), None));
    assert!(crew.wait_for_all(PATIENCE), "its thread was told to end");
    let mut job = Job::new(Task { limit: Some(Duration::from_millis(5)), ..task(endless) }, crew.clone());
    job.request("q", Instant(0), |_| Prepared::Ready(1));
    assert_eq!((job.wait(), job.fault()), (Polled::Ended, Some(&JobFault::TooSlow)));
}

#[test]
fn no_thread_outlives_what_it_works_for() {
    let crew = crew();
    let mut job = Job::new(task(endless), crew.clone());
    for question in 0..8 {
        job.request(question, Instant(0), |_| Prepared::Ready(0));
    }
    job.cancel();
    assert_eq!((job.question(), job.progress()), (None, None));
    assert!(crew.wait_for_all(PATIENCE), "{} work on after they were cancelled", crew.at_work());
    job.request(9, Instant(0), |_| Prepared::Ready(0));
    assert_eq!(crew.at_work(), 1);
    drop(job);
    assert!(crew.wait_for_all(PATIENCE), "{} work on after all is gone", crew.at_work());
}

#[test]
fn progress_is_told_and_wakes() {
    let (wake, woken) = channel();
    let wake = std::sync::Mutex::new(wake);
    let crew = Crew::new(Arc::new(move || drop(wake.lock().map(|wake| wake.send(())))));
    let (go_on, stays): (Sender<()>, Receiver<()>) = channel();
    let quarter = |stays: Receiver<()>, control: &Control| {
        assert!(control.tell(0.25));
        stays.recv().is_ok()
    };
    let mut job = Job::new(task(quarter), crew);
    job.request((), Instant(0), |()| Prepared::Ready(stays));
    woken.recv_timeout(PATIENCE).expect("the program is woken");
    assert_eq!((job.poll(Instant(0)), job.progress()), (Polled::Moved, Some(0.25)));
    assert_eq!(job.poll(Instant(0)), Polled::Nothing, "once");
    go_on.send(()).expect("it waits");
    assert_eq!((job.wait(), job.progress(), job.result()), (Polled::Ended, None, Some(Ok(&true))));
    woken.recv_timeout(PATIENCE).expect("the program is woken at the end");
}

#[test]
fn no_more_work_at_once_than_there_is_room_for() {
    let all = crew();
    let few = all.of_at_most(1);
    let mut first = Job::new(task(endless), few.clone());
    let mut second = Job::new(task(double), few);
    first.request((), Instant(0), |()| Prepared::Ready(0));
    second.request((), Instant(0), |()| Prepared::Ready(2));
    assert_eq!((second.poll(Instant(0)), all.at_work()), (Polled::Nothing, 1));
    assert!(second.is_busy(), "it waits");
    first.cancel();
    assert!(all.wait_for_all(PATIENCE));
    assert_eq!((second.wait(), second.result()), (Polled::Ended, Some(Ok(&4))), "begun when there was room");
}

fn app(home: &tempfile::TempDir) -> App {
    let mut app = home::settled(home::setup(home.path(), "e-dunmore", Some("E. Dunmore"), Arc::new(|| MORNING)));
    let oral = Some(StudyDay(20_782 + 40));
    app.command(Command::Profile(ProfileCommand::FinishFirstRun {
        certificate: Certificate::Watch,
        oral,
        minutes: 30,
        watch: false,
    }));
    app
}

/// Has the plan asked for, and waits until it is being worked out.
fn work_out_plan(app: &mut App) {
    app.command(Command::Go(Route::Plan));
    let begun = std::time::Instant::now();
    loop {
        let View::Plan(view) = &app.view().view else { panic!("the plan's page") };
        if matches!(view.state, PlanState::Working(share) if share > 0.0) {
            return;
        }
        assert!(begun.elapsed() < PATIENCE && !matches!(view.state, PlanState::Ready(_)), "{:?}", view.state);
        app.tick();
        thread::yield_now();
    }
}

#[test]
fn closing_a_profile_or_the_program_ends_all_its_work() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let mut app = app(&home);
    let crew = app.crew();
    work_out_plan(&mut app);
    assert!(crew.at_work() >= 1);
    app.command(Command::Profile(ProfileCommand::New("M. Ashby".into())));
    assert!(crew.at_work() <= 1, "only the new profile is being opened: {} at work", crew.at_work());
    app.settle();
    let oral = Some(StudyDay(20_782 + 40));
    app.command(Command::Profile(ProfileCommand::FinishFirstRun {
        certificate: Certificate::Watch,
        oral,
        minutes: 30,
        watch: false,
    }));
    work_out_plan(&mut app);
    drop(app);
    assert_eq!(crew.at_work(), 0, "a thread outlives the program");
}

#[test]
fn a_training_is_waited_for_and_says_what_came_of_it() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let mut app = app(&home);
    app.command(Command::Go(Route::Knowing));
    app.command(Command::Training(TrainingCommand::Begin));
    let View::Knowing(view) = &app.view().view else { panic!("the page") };
    assert_eq!(view.learning, Some(0.0));
    app.settle();
    let shell = app.view();
    let notice = shell.notice.as_ref().expect("it says so");
    assert_eq!(notice.tone, Tone::Bad);
    assert!(notice.text.starts_with("There are 0 reviews after a day or more"), "{}", notice.text);
    let View::Knowing(view) = &shell.view else { panic!("the page") };
    assert!(view.learning.is_none() && view.fits.is_some() && view.trouble.is_none());
}
