//! The threads that jobs work on: counted while they work, so that there are never too many and none is left behind.

use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use crate::store::Wake;

/// How many threads work, for whoever waits for one to end.
#[derive(Default)]
struct Count {
    at_work: Mutex<usize>,
    ended: Condvar,
}

impl Count {
    fn lock(&self) -> MutexGuard<'_, usize> {
        self.at_work.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn one_more(&self) {
        *self.lock() += 1;
    }

    fn one_less(&self) {
        *self.lock() -= 1;
        self.ended.notify_all();
    }

    /// Blocks until so few work, or the time is over; whether so few do.
    fn wait_for(&self, at_most: usize, longest: Duration) -> bool {
        let too_many = |at_work: &mut usize| *at_work > at_most;
        let waited = self.ended.wait_timeout_while(self.lock(), longest, too_many);
        let (at_work, _) = waited.unwrap_or_else(PoisonError::into_inner);
        *at_work <= at_most
    }
}

/// Those that work for one sort of job; clones count together, and all crews of one program once more together.
#[derive(Clone)]
pub struct Crew {
    all: Arc<Count>,
    own: Arc<Count>,
    most: usize,
    wake: Wake,
}

impl Crew {
    /// A crew of any number; `wake` is called whenever there is something to take in.
    pub fn new(wake: Wake) -> Self {
        Self { all: Arc::default(), own: Arc::default(), most: usize::MAX, wake }
    }

    /// A crew of at most so many, those among them whose work has been given up and who have not ended yet.
    pub fn of_at_most(&self, most: usize) -> Self {
        Self { own: Arc::default(), most, ..self.clone() }
    }

    /// How many threads work in this program.
    pub fn at_work(&self) -> usize {
        *self.all.lock()
    }

    /// Blocks until none works any more, or the time is over; whether none does.
    pub fn wait_for_all(&self, longest: Duration) -> bool {
        self.all.wait_for(0, longest)
    }

    /// There is room for one more.
    pub(super) fn has_room(&self) -> bool {
        *self.own.lock() < self.most
    }

    /// Blocks until there is room for one more, or the time is over.
    pub(super) fn wait_for_room(&self, longest: Duration) {
        self.own.wait_for(self.most.saturating_sub(1), longest);
    }

    /// There is something to take in.
    pub(super) fn wake(&self) {
        (self.wake)();
    }

    /// Counts one more, for as long as what is given lives.
    pub(super) fn one_more(&self) -> AtWork {
        self.all.one_more();
        self.own.one_more();
        AtWork(self.clone())
    }
}

/// Counts a thread for as long as it works and, whichever way it ends, lets the program look.
pub(super) struct AtWork(Crew);

impl Drop for AtWork {
    fn drop(&mut self) {
        self.0.own.one_less();
        self.0.all.one_less();
        self.0.wake();
    }
}
