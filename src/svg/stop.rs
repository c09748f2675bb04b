//! Work on a drawing that nobody wants any more ends at its next step.
//!
//! Whoever waits for a drawing holds a [`Stop`]; the thread that makes it runs its work [`until`] that. The flag belongs
//! to the thread, as the deep stack does, so that the steps of the work need not hand it on.

use std::cell::RefCell;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use super::Fault;

/// Says that a drawing is no longer wanted. Clones say it together.
#[derive(Debug, Clone, Default)]
pub struct Stop {
    flag: Arc<AtomicBool>,
    /// That of the work which this one is a part of.
    whole: Option<Arc<AtomicBool>>,
}

impl Stop {
    /// Says so by a flag that somebody else sets.
    pub fn by(flag: Arc<AtomicBool>) -> Self {
        Self { flag, whole: None }
    }

    /// For a part of the work of this thread: where that is no longer wanted, the part is not, either.
    pub fn of_part() -> Self {
        let whole = WANTED.with_borrow(|wanted| wanted.as_ref().map(|stop| Arc::clone(&stop.flag)));
        Self { flag: Arc::default(), whole }
    }

    /// Says that the drawing is no longer wanted.
    pub fn stop(&self) {
        self.flag.store(true, Ordering::SeqCst);
    }

    /// Whether that has been said.
    pub fn is_stopped(&self) -> bool {
        let is_set = |flag: &Arc<AtomicBool>| flag.load(Ordering::SeqCst);
        is_set(&self.flag) || self.whole.as_ref().is_some_and(is_set)
    }
}

thread_local! {
    static WANTED: RefCell<Option<Stop>> = const { RefCell::new(None) };
}

/// Does work on a drawing on this thread, until it is no longer wanted.
pub fn until<T>(stop: &Stop, work: impl FnOnce() -> T) -> T {
    let before = WANTED.replace(Some(stop.clone()));
    let done = work();
    WANTED.set(before);
    done
}

/// A step of the work: ends it where it is no longer wanted.
pub(super) fn step() -> Result<(), Fault> {
    match is_stopped() {
        true => Err(Fault::new("was no longer wanted", "have it drawn again")),
        false => Ok(()),
    }
}

/// Whether the work of this thread is no longer wanted.
pub(super) fn is_stopped() -> bool {
    WANTED.with_borrow(|wanted| wanted.as_ref().is_some_and(Stop::is_stopped))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_longer_wanted_ends_at_its_next_step() {
        let drawing =
            b"<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'><rect width='9' height='9'/></svg>";
        let drawn = |stop: &Stop| until(stop, || super::super::draw(drawing, |_, _| (9, 9)).map(|_| ()));
        let stop = Stop::default();
        assert_eq!(drawn(&stop), Ok(()));
        stop.stop();
        assert!(drawn(&stop).is_err_and(|fault| fault.what == "was no longer wanted"));
        let outlined = until(&stop, || super::super::outline(drawing, None).map(|_| ()));
        assert!(outlined.is_err_and(|fault| fault.what == "was no longer wanted"));
        assert_eq!(drawn(&Stop::default()), Ok(()), "the next is wanted");
        assert!(!is_stopped(), "and nothing stays behind");
        let whole = Stop::default();
        let part = until(&whole, Stop::of_part);
        assert!(!part.is_stopped());
        whole.stop();
        assert!(part.is_stopped(), "a part of what is no longer wanted");
    }
}
