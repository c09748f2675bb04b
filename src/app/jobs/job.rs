//! Work in the background, the same for every sort of it: a question is asked, what it needs is read from the store, a
//! thread works on that, and the answer stands until another question is asked.
//!
//! What goes wrong is one of three [`JobFault`]s, and what failed can be asked for again ([`Job::ask_again`]). Work that
//! is no longer wanted is told so ([`Control::is_wanted`]) and ends at its next step.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, TryRecvError, channel};
use std::thread;
use std::time::Duration;

use super::crew::Crew;
use crate::domain::day::Instant;
use crate::store::{StoreError, Ticket};

/// How what a page shows is asked for again.
pub const OPEN_AGAIN: &str = "Open this page again to have it worked out anew";

/// Why a job gave no answer.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum JobFault {
    /// What it needs could not be read.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// The job's thread broke off, or none could be started.
    #[error("the program’s own work broke off")]
    Panicked,
    /// The time that it has was over, and it was given up.
    #[error("it took too long")]
    TooSlow,
}

impl JobFault {
    /// In sentences: that `what` was not worked out, why, and how it is asked for again.
    pub fn told(&self, what: &str, again: &str) -> String {
        format!("{what} could not be worked out: {self}. {again}.")
    }
}

/// How a sort of job works.
pub struct Task<P, A> {
    /// The name of its thread; none for work that is so short that it is done where the job is polled.
    pub thread: Option<&'static str>,
    /// The thread's stack in bytes, where it needs more than usual.
    pub stack: Option<usize>,
    /// After this time since it was asked for it is given up.
    pub limit: Option<Duration>,
    /// From what was prepared to the answer.
    pub work: fn(P, &Control) -> A,
}

// By hand: a function can be copied, whatever it is over.
impl<P, A> Clone for Task<P, A> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<P, A> Copy for Task<P, A> {}

/// Where what is worked on comes from.
pub enum Prepared<P> {
    /// The store reads it.
    Asked(Ticket<P>),
    /// At hand already.
    Ready(P),
}

/// What connects a job with the work on its thread.
#[derive(Clone)]
pub struct Control {
    stopped: Arc<AtomicBool>,
    thousandths: Arc<AtomicU32>,
    crew: Crew,
}

impl Control {
    fn new(crew: &Crew) -> Self {
        Self { stopped: Arc::default(), thousandths: Arc::default(), crew: crew.clone() }
    }

    /// Whether the answer is still wanted.
    pub fn is_wanted(&self) -> bool {
        !self.stopped.load(Ordering::SeqCst)
    }

    /// Tells how far the work is, 0 to 1; whether it is still wanted.
    pub fn tell(&self, share: f64) -> bool {
        let now = (share * 1_000.0) as u32;
        if self.thousandths.swap(now, Ordering::SeqCst) / 10 != now / 10 {
            self.crew.wake();
        }
        self.is_wanted()
    }

    /// The flag that is set when the answer is no longer wanted: for work that asks in its own way.
    pub(super) fn flag(&self) -> Arc<AtomicBool> {
        Arc::clone(&self.stopped)
    }

    fn share(&self) -> f64 {
        f64::from(self.thousandths.load(Ordering::SeqCst)) / 1_000.0
    }
}

/// What polling a job has brought.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Polled {
    /// All is as it was.
    Nothing,
    /// The work has come on by a hundredth or more.
    Moved,
    /// The answer is there, or why there is none.
    Ended,
}

enum Phase<P, A> {
    Idle,
    /// The store reads what is needed.
    Reading(Ticket<P>),
    /// Too many others work.
    Waiting(P),
    Running(Receiver<A>),
    Done(A),
    Failed(JobFault),
}

/// One job: `Q` is what is asked, `P` what is prepared for it, `A` the answer.
pub struct Job<Q, P, A> {
    task: Task<P, A>,
    crew: Crew,
    question: Option<Q>,
    since: Instant,
    phase: Phase<P, A>,
    control: Control,
    shown: u32,
}

impl<Q: PartialEq, P: Send + 'static, A: Send + 'static> Job<Q, P, A> {
    /// A job of which nothing has been asked.
    pub fn new(task: Task<P, A>, crew: Crew) -> Self {
        let control = Control::new(&crew);
        Self { task, crew, question: None, since: Instant(0), phase: Phase::Idle, control, shown: 0 }
    }

    /// Asks for something, where it is not what was asked last; what was begun for another question is cancelled. Whether
    /// it was begun.
    pub fn request(&mut self, question: Q, now: Instant, prepare: impl FnOnce(&Q) -> Prepared<P>) -> bool {
        if self.question.as_ref() == Some(&question) {
            return false;
        }
        self.cancel();
        self.since = now;
        self.phase = match prepare(&question) {
            Prepared::Asked(ticket) => Phase::Reading(ticket),
            Prepared::Ready(prepared) => Phase::Waiting(prepared),
        };
        self.question = Some(question);
        self.begin();
        true
    }

    /// Works in another way from now on: for tests of what failed.
    #[cfg(test)]
    pub(super) fn mend(&mut self, task: Task<P, A>) {
        self.task = task;
    }

    /// Gives up what was asked: its thread ends at its next step, and nothing of it is kept.
    pub fn cancel(&mut self) {
        self.control.stopped.store(true, Ordering::SeqCst);
        self.control = Control::new(&self.crew);
        (self.question, self.phase, self.shown) = (None, Phase::Idle, 0);
    }

    /// What failed may be asked for again: the next request begins it anew.
    pub fn ask_again(&mut self) {
        if matches!(self.phase, Phase::Failed(_)) {
            self.cancel();
        }
    }

    /// Takes in what has come, and gives up what takes too long.
    pub fn poll(&mut self, now: Instant) -> Polled {
        if let Phase::Reading(ticket) = &self.phase
            && let Some(read) = ticket.try_take()
            && !self.has_read(read)
        {
            return Polled::Ended;
        }
        self.begin();
        let late = self.until(now).is_some_and(|left| left.is_zero());
        let come = match &self.phase {
            Phase::Running(answer) => match answer.try_recv() {
                Err(TryRecvError::Empty) => None,
                Err(TryRecvError::Disconnected) => Some(Err(JobFault::Panicked)),
                Ok(answer) => Some(Ok(answer)),
            },
            Phase::Reading(_) | Phase::Waiting(_) => None,
            _ => return Polled::Nothing,
        };
        match come {
            Some(answer) => self.end(answer),
            None if late => self.end(Err(JobFault::TooSlow)),
            None => return self.moved(),
        }
        Polled::Ended
    }

    /// Blocks until there is an answer, or it is known that there is none: for faces without frames.
    pub fn wait(&mut self) -> Polled {
        if self.is_reading()
            && let Phase::Reading(ticket) = std::mem::replace(&mut self.phase, Phase::Idle)
            && !self.has_read(ticket.wait())
        {
            return Polled::Ended;
        }
        if matches!(self.phase, Phase::Waiting(_)) {
            self.crew.wait_for_room(self.task.limit.unwrap_or(Duration::MAX));
            self.begin();
        }
        let come = match &self.phase {
            Phase::Running(answer) => match self.task.limit {
                None => answer.recv().map_err(|_| JobFault::Panicked),
                Some(limit) => answer.recv_timeout(limit).map_err(|why| match why {
                    RecvTimeoutError::Timeout => JobFault::TooSlow,
                    RecvTimeoutError::Disconnected => JobFault::Panicked,
                }),
            },
            Phase::Waiting(_) => Err(JobFault::TooSlow),
            Phase::Idle | Phase::Reading(_) | Phase::Done(_) | Phase::Failed(_) => return Polled::Nothing,
        };
        self.end(come);
        Polled::Ended
    }

    /// When what is on its way will be given up; none where nothing is, or where it has all the time it needs.
    pub fn until(&self, now: Instant) -> Option<Duration> {
        let limit = self.task.limit.filter(|_| self.is_busy())?;
        let passed = Duration::from_millis((now.0 - self.since.0).max(0).unsigned_abs());
        Some(limit.saturating_sub(passed))
    }

    /// The answer to what was asked last, or why there is none; nothing while it is on its way.
    pub fn result(&self) -> Option<Result<&A, &JobFault>> {
        match &self.phase {
            Phase::Done(answer) => Some(Ok(answer)),
            Phase::Failed(fault) => Some(Err(fault)),
            _ => None,
        }
    }

    /// The answer or the fault, once and for good: the job then stands as if nothing had been asked.
    pub fn take(&mut self) -> Option<Result<A, JobFault>> {
        match std::mem::replace(&mut self.phase, Phase::Idle) {
            Phase::Done(answer) => {
                self.cancel();
                Some(Ok(answer))
            }
            Phase::Failed(fault) => {
                self.cancel();
                Some(Err(fault))
            }
            phase => {
                self.phase = phase;
                None
            }
        }
    }

    /// Why there is no answer.
    pub fn fault(&self) -> Option<&JobFault> {
        self.result()?.err()
    }

    /// What was asked last.
    pub fn question(&self) -> Option<&Q> {
        self.question.as_ref()
    }

    /// Something is on its way.
    pub fn is_busy(&self) -> bool {
        matches!(self.phase, Phase::Reading(_) | Phase::Waiting(_) | Phase::Running(_))
    }

    /// The store is still reading what is needed.
    pub fn is_reading(&self) -> bool {
        matches!(self.phase, Phase::Reading(_))
    }

    /// How far it is, 0 to 1; none where nothing is on its way.
    pub fn progress(&self) -> Option<f64> {
        self.is_busy().then(|| self.control.share())
    }

    /// What was asked of the store has come; whether there is something to work on.
    fn has_read(&mut self, read: Result<P, StoreError>) -> bool {
        match read {
            Ok(prepared) => self.phase = Phase::Waiting(prepared),
            Err(error) => {
                self.end(Err(error.into()));
                return false;
            }
        }
        true
    }

    fn moved(&mut self) -> Polled {
        let now = self.control.thousandths.load(Ordering::SeqCst) / 10;
        if std::mem::replace(&mut self.shown, now) == now { Polled::Nothing } else { Polled::Moved }
    }

    fn end(&mut self, come: Result<A, JobFault>) {
        self.control.stopped.store(true, Ordering::SeqCst);
        self.phase = match come {
            Ok(answer) => Phase::Done(answer),
            Err(fault) => Phase::Failed(fault),
        };
    }

    /// Begins what waits, if there is room for one more.
    fn begin(&mut self) {
        if !matches!(self.phase, Phase::Waiting(_)) || !(self.task.thread.is_none() || self.crew.has_room()) {
            return;
        }
        let Phase::Waiting(prepared) = std::mem::replace(&mut self.phase, Phase::Idle) else { return };
        let (sender, answer) = channel();
        let (work, control) = (self.task.work, self.control.clone());
        let Some(name) = self.task.thread else {
            // Taken in at once, as if a thread had been very fast.
            let _ = sender.send(work(prepared, &control));
            self.phase = Phase::Running(answer);
            return;
        };
        let at_work = self.crew.one_more();
        let work = move || {
            // In this order whichever way it ends: the answer is on its way before the program is woken.
            let _at_work = at_work;
            let sender = sender;
            let answer = work(prepared, &control);
            // Nobody listening any more means that another question has been asked.
            let _ = sender.send(answer);
        };
        let mut thread = thread::Builder::new().name(name.to_owned());
        if let Some(stack) = self.task.stack {
            thread = thread.stack_size(stack);
        }
        // Where no thread can be had, its end of the channel is gone and says so.
        let _ = thread.spawn(work);
        self.phase = Phase::Running(answer);
    }
}

impl<Q, P, A> Drop for Job<Q, P, A> {
    fn drop(&mut self) {
        self.control.stopped.store(true, Ordering::SeqCst);
    }
}
