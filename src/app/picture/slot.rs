//! What is read and made on a thread of its own, for as long as it is wanted: begun when there is room, taken in when
//! it comes, given up when it takes too long.

use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, TryRecvError, channel};
use std::thread;
use std::time::Duration;

use super::Fault;
use crate::domain::day::Instant;
use crate::store::Wake;
use crate::svg;

/// After this time what is being made is given up.
pub(super) const LONGEST_MS: i64 = 10_000;
/// So many threads work at once, those given up among them until they have ended, so that bad pictures cannot take the
/// computer over: one for a card's picture, and one for its drawing.
const MOST_AT_ONCE: usize = 2;

/// Counts the threads that work.
pub(super) type Running = Arc<AtomicUsize>;

/// What became of what was to be made.
pub(super) type Made<T> = Result<Arc<T>, Fault>;

/// One thing that is made for a key that says all about it.
pub(super) struct Slot<K, T> {
    make: fn(&K) -> Result<T, Fault>,
    held: Option<Held<K, T>>,
}

struct Held<K, T> {
    key: K,
    since: Instant,
    state: State<T>,
}

enum State<T> {
    /// Too many others are being made.
    Waiting,
    /// It is being made.
    Making(Making<T>),
    /// As it will stay.
    Done(Made<T>),
}

/// What is on its way from a thread, which ends at its next step once this is dropped.
struct Making<T> {
    comes: Receiver<Result<T, Fault>>,
    stop: svg::Stop,
}

impl<T> Drop for Making<T> {
    fn drop(&mut self) {
        self.stop.stop();
    }
}

impl<K: Clone + PartialEq + Send + 'static, T: Send + 'static> Slot<K, T> {
    pub(super) fn new(make: fn(&K) -> Result<T, Fault>) -> Self {
        Self { make, held: None }
    }

    /// Holds what is wanted now, and begins to make it where it is another than before.
    pub(super) fn hold(&mut self, wanted: Option<K>, now: Instant, wake: &Wake, running: &Running) {
        let Some(key) = wanted else {
            self.held = None;
            return;
        };
        if self.held.as_ref().is_some_and(|h| h.key == key) {
            return;
        }
        self.held = Some(Held { key, since: now, state: State::Waiting });
        self.begin(wake, running);
    }

    /// What it is made of may have changed: it is made again when it is wanted.
    pub(super) fn forget(&mut self) {
        self.held = None;
    }

    /// What is held: its key, and what became of it; none of that while it is on its way.
    pub(super) fn held(&self) -> Option<(&K, Option<&Made<T>>)> {
        let held = self.held.as_ref()?;
        let done = match &held.state {
            State::Done(done) => Some(done),
            _ => None,
        };
        Some((&held.key, done))
    }

    /// Begins to make what waits, if there is room for one more.
    fn begin(&mut self, wake: &Wake, running: &Running) {
        let Some(held) = &mut self.held else { return };
        if !matches!(held.state, State::Waiting) || running.load(Ordering::SeqCst) >= MOST_AT_ONCE {
            return;
        }
        let (sender, receiver) = channel();
        let ends = OneMore::of(running);
        let (make, key, wake) = (self.make, held.key.clone(), Arc::clone(wake));
        let stop = svg::Stop::default();
        let stopped = stop.clone();
        let started = thread::Builder::new().name("picture".to_owned()).stack_size(svg::STACK).spawn(move || {
            let answer = svg::until(&stopped, || make(&key));
            // Nobody listening any more means that the card has gone.
            let _ = sender.send(answer);
            drop(ends);
            wake();
        });
        held.state = match started {
            Ok(_) => State::Making(Making { comes: receiver, stop }),
            Err(_) => State::Done(Err(Fault::Broken)),
        };
    }

    /// Takes it in where it has come, and gives up what takes too long; says whether anything has changed.
    pub(super) fn take_in(&mut self, now: Instant, wake: &Wake, running: &Running) -> bool {
        self.begin(wake, running);
        let Some(held) = &mut self.held else { return false };
        let answer = match &held.state {
            State::Done(_) => return false,
            State::Waiting => Err(TryRecvError::Empty),
            State::Making(making) => making.comes.try_recv(),
        };
        held.state = State::Done(match answer {
            Err(TryRecvError::Empty) if now.0 - held.since.0 < LONGEST_MS => return false,
            Err(TryRecvError::Empty) => Err(Fault::Slow),
            Err(TryRecvError::Disconnected) => Err(Fault::Broken),
            Ok(answer) => answer.map(Arc::new),
        });
        true
    }

    /// Blocks until it is there or given up: for faces without frames.
    pub(super) fn settle(&mut self) {
        let Some(held) = &mut self.held else { return };
        let State::Making(making) = &held.state else { return };
        held.state = State::Done(match making.comes.recv_timeout(Duration::from_millis(LONGEST_MS.unsigned_abs())) {
            Ok(answer) => answer.map(Arc::new),
            Err(RecvTimeoutError::Timeout) => Err(Fault::Slow),
            Err(RecvTimeoutError::Disconnected) => Err(Fault::Broken),
        });
    }

    /// When what is on its way will be given up.
    pub(super) fn until(&self, now: Instant) -> Option<Duration> {
        let held = self.held.as_ref().filter(|h| !matches!(h.state, State::Done(_)))?;
        let left = (held.since.0 + LONGEST_MS - now.0).max(1);
        Some(Duration::from_millis(left.unsigned_abs()))
    }
}

/// Counts a thread for as long as it runs, whichever way it ends.
struct OneMore(Running);

impl OneMore {
    fn of(count: &Running) -> Self {
        count.fetch_add(1, Ordering::SeqCst);
        Self(Arc::clone(count))
    }
}

impl Drop for OneMore {
    fn drop(&mut self) {
        self.0.fetch_sub(1, Ordering::SeqCst);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wake() -> Wake {
        Arc::new(|| {})
    }

    fn slot(state: State<u8>) -> Slot<u8, u8> {
        let held = Some(Held { key: 0, since: Instant(0), state });
        Slot { held, ..Slot::new(|key| Ok(*key)) }
    }

    fn done(slot: &Slot<u8, u8>) -> Option<Result<u8, Fault>> {
        slot.held().and_then(|(_, done)| done.map(|done| done.clone().map(|made| *made)))
    }

    #[test]
    fn what_takes_too_long_is_given_up() {
        let (_sender, comes) = channel();
        let stop = svg::Stop::default();
        let (mut slot, running) = (slot(State::Making(Making { comes, stop: stop.clone() })), Running::default());
        assert!(!slot.take_in(Instant(LONGEST_MS - 1), &wake(), &running));
        assert_eq!(slot.until(Instant(LONGEST_MS - 1)), Some(Duration::from_millis(1)));
        assert!(slot.take_in(Instant(LONGEST_MS), &wake(), &running));
        assert_eq!(done(&slot), Some(Err(Fault::Slow)));
        assert!(stop.is_stopped(), "and its thread is told so");
        assert_eq!(slot.until(Instant(LONGEST_MS)), None);
    }

    #[test]
    fn a_thread_that_broke_off_is_said() {
        let (sender, comes) = channel();
        drop(sender);
        let (mut slot, running) =
            (slot(State::Making(Making { comes, stop: svg::Stop::default() })), Running::default());
        assert!(slot.take_in(Instant(0), &wake(), &running));
        assert_eq!(done(&slot), Some(Err(Fault::Broken)));
    }

    #[test]
    fn no_more_than_two_are_made_at_once() {
        let mut slot = Slot::new(|key: &u8| Ok(*key + 1));
        let running = Running::default();
        let busy: Vec<OneMore> = (0..2).map(|_| OneMore::of(&running)).collect();
        slot.hold(Some(7), Instant(0), &wake(), &running);
        assert!(matches!(slot.held.as_ref().map(|h| &h.state), Some(State::Waiting)));
        drop(busy);
        slot.take_in(Instant(1), &wake(), &running);
        slot.settle();
        assert_eq!(done(&slot), Some(Ok(8)), "it was begun when there was room");
    }

    /// Eight cards are leafed through: of what each of them began nothing goes on.
    #[test]
    fn what_is_no_longer_wanted_is_not_made_to_its_end() {
        // Draws on and on, as a drawing without end would.
        let endless = |_: &u8| -> Result<u8, Fault> {
            let drawing = b"<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'/>";
            loop {
                svg::draw(drawing, |_, _| (9, 9))?;
            }
        };
        let mut slot = Slot::new(endless);
        let running = Running::default();
        for card in 0..8 {
            slot.hold(Some(card), Instant(0), &wake(), &running);
            slot.take_in(Instant(0), &wake(), &running);
            assert!(running.load(Ordering::SeqCst) <= MOST_AT_ONCE);
        }
        slot.hold(None, Instant(0), &wake(), &running);
        let begun = std::time::Instant::now();
        while running.load(Ordering::SeqCst) > 0 {
            assert!(begun.elapsed() < Duration::from_secs(60), "a thread goes on");
            thread::sleep(Duration::from_millis(5));
        }
    }
}
