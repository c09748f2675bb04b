//! The picture of the card that is shown: read and decoded off the frame, and kept while the card stays.

mod raster;

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::thread;
use std::time::Duration;

use crate::deck::{PictureTrouble, read_picture};
use crate::domain::day::Instant;
use crate::present::{Image, PictureState, PictureView};
use crate::store::Wake;
use crate::svg;

/// Twice the largest place on the sheet, in dots, so that a picture is crisp at every scale of the interface.
const MOST_WIDE: u32 = 1_440;
/// See [`MOST_WIDE`].
const MOST_HIGH: u32 = 640;
/// After this time a picture is given up.
const LONGEST_MS: i64 = 10_000;
/// So many threads decode at once, those given up among them, so that bad pictures cannot take the computer over.
const MOST_AT_ONCE: usize = 4;

/// Why a picture cannot be shown.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
enum Fault {
    #[error(transparent)]
    File(#[from] PictureTrouble),
    #[error("is not a sound PNG or JPEG file ({0}); save it again")]
    Raster(String),
    #[error("has more dots than can be shown; save it with at most 8,000 on a side and 40 million in all")]
    Dots,
    #[error(transparent)]
    Drawing(#[from] svg::Fault),
    #[error("took longer than ten seconds to draw; save it simpler, or as PNG")]
    Slow,
    #[error("could not be drawn; save it again, or as PNG")]
    Broken,
}

/// Where a picture's file is: the deck's folder, and the path in it.
type At = (PathBuf, String);

/// The picture that is shown, if any.
#[derive(Default)]
pub(super) struct Pictures {
    held: Option<Held>,
    running: Arc<AtomicUsize>,
    unread: bool,
}

struct Held {
    at: At,
    since: Instant,
    state: State,
}

enum State {
    /// Too many others are being decoded.
    Waiting,
    /// It is being read.
    Reading(Receiver<Result<Image, Fault>>),
    /// As it will stay.
    Done(PictureState),
}

impl Pictures {
    /// The same for a program that starts anew: what is still being decoded counts on.
    pub(super) fn anew(&self) -> Self {
        Self { held: None, running: Arc::clone(&self.running), unread: self.unread }
    }

    /// Pictures are named and never read: for faces that cannot draw.
    pub(super) fn leave_unread(&mut self) {
        self.unread = true;
    }

    /// Holds the picture that is wanted now, and begins to read it where it is another than before.
    pub(super) fn hold(&mut self, wanted: Option<(&Path, &str)>, now: Instant, wake: &Wake) {
        let Some((folder, name)) = wanted.filter(|_| !self.unread) else {
            self.held = None;
            return;
        };
        if self.held.as_ref().is_some_and(|h| h.at.0 == folder && h.at.1 == name) {
            return;
        }
        let at = (folder.to_owned(), name.to_owned());
        self.held = Some(Held { at, since: now, state: State::Waiting });
        self.begin(wake);
    }

    /// The file may have changed: it is read again when it is wanted.
    pub(super) fn forget(&mut self) {
        self.held = None;
    }

    /// Begins to read what waits, if there is room for one more.
    fn begin(&mut self, wake: &Wake) {
        let Some(held) = &mut self.held else { return };
        if !matches!(held.state, State::Waiting) || self.running.load(Ordering::SeqCst) >= MOST_AT_ONCE {
            return;
        }
        let (sender, receiver) = channel();
        let ends = Running::one_more(&self.running);
        let (at, wake) = (held.at.clone(), Arc::clone(wake));
        let started = thread::Builder::new().name("picture".to_owned()).stack_size(svg::STACK).spawn(move || {
            let answer = read(&at);
            // Nobody listening any more means that the card has gone.
            let _ = sender.send(answer);
            drop(ends);
            wake();
        });
        held.state = match started {
            Ok(_) => State::Reading(receiver),
            Err(_) => held.failed(&Fault::Broken),
        };
    }

    /// Takes the picture in where it has come, and gives up what takes too long; says whether anything has changed.
    pub(super) fn take_in(&mut self, now: Instant, wake: &Wake) -> bool {
        self.begin(wake);
        let Some(held) = &mut self.held else { return false };
        let answer = match &held.state {
            State::Done(_) => return false,
            State::Waiting => Err(TryRecvError::Empty),
            State::Reading(receiver) => receiver.try_recv(),
        };
        held.state = match answer {
            Err(TryRecvError::Empty) if now.0 - held.since.0 < LONGEST_MS => return false,
            Err(TryRecvError::Empty) => held.failed(&Fault::Slow),
            Err(TryRecvError::Disconnected) => held.failed(&Fault::Broken),
            Ok(answer) => held.come(answer),
        };
        true
    }

    /// Blocks until the picture is there or given up: for faces without frames.
    pub(super) fn settle(&mut self) {
        let Some(held) = &mut self.held else { return };
        let State::Reading(receiver) = &held.state else { return };
        held.state = match receiver.recv_timeout(Duration::from_millis(LONGEST_MS.unsigned_abs())) {
            Ok(answer) => held.come(answer),
            Err(std::sync::mpsc::RecvTimeoutError::Timeout) => held.failed(&Fault::Slow),
            Err(std::sync::mpsc::RecvTimeoutError::Disconnected) => held.failed(&Fault::Broken),
        };
    }

    /// When a picture on its way will be given up.
    pub(super) fn until(&self, now: Instant) -> Option<Duration> {
        let held = self.held.as_ref().filter(|h| !matches!(h.state, State::Done(_)))?;
        let left = (held.since.0 + LONGEST_MS - now.0).max(1);
        Some(Duration::from_millis(left.unsigned_abs()))
    }

    /// The picture as data to draw.
    pub(super) fn view(&self, name: &str) -> PictureView {
        let state = match self.held.as_ref().filter(|h| h.at.1 == name).map(|h| &h.state) {
            Some(State::Done(state)) => state.clone(),
            _ => PictureState::Loading,
        };
        PictureView { name: name.to_owned(), state }
    }
}

impl Held {
    fn come(&self, answer: Result<Image, Fault>) -> State {
        match answer {
            Ok(image) => State::Done(PictureState::Ready(Arc::new(image))),
            Err(fault) => self.failed(&fault),
        }
    }

    fn failed(&self, fault: &Fault) -> State {
        State::Done(PictureState::Failed(format!("The picture {} {fault}.", self.at.1)))
    }
}

/// Counts a thread for as long as it runs, whichever way it ends.
struct Running(Arc<AtomicUsize>);

impl Running {
    fn one_more(count: &Arc<AtomicUsize>) -> Self {
        count.fetch_add(1, Ordering::SeqCst);
        Self(Arc::clone(count))
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        self.0.fetch_sub(1, Ordering::SeqCst);
    }
}

fn read((folder, name): &At) -> Result<Image, Fault> {
    let bytes = read_picture(folder, name)?;
    let is_drawing = name.rsplit_once('.').is_some_and(|(_, ending)| ending.eq_ignore_ascii_case("svg"));
    if is_drawing {
        let svg::Dots { width, height, rgba } = svg::draw(&bytes, |width, height| fitted(width, height, true))?;
        Ok(Image { width, height, rgba })
    } else {
        raster::decode(&bytes)
    }
}

/// The size nearest to this one that fits; `grow` says whether it may be larger.
fn fitted(width: f32, height: f32, grow: bool) -> (u32, u32) {
    let scale = (MOST_WIDE as f32 / width).min(MOST_HIGH as f32 / height);
    let scale = if grow { scale } else { scale.min(1.0) };
    let side = |length: f32, most: u32| ((length * scale).round() as u32).clamp(1, most);
    (side(width, MOST_WIDE), side(height, MOST_HIGH))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wake() -> Wake {
        Arc::new(|| {})
    }

    fn held(state: State) -> Pictures {
        let at = (PathBuf::from("/deck"), "a.svg".to_owned());
        Pictures { held: Some(Held { at, since: Instant(0), state }), ..Pictures::default() }
    }

    fn words(pictures: &Pictures) -> String {
        match pictures.view("a.svg").state {
            PictureState::Failed(words) => words,
            other => panic!("not failed: {other:?}"),
        }
    }

    #[test]
    fn what_takes_too_long_is_given_up() {
        let (_sender, receiver) = channel();
        let mut pictures = held(State::Reading(receiver));
        assert!(!pictures.take_in(Instant(LONGEST_MS - 1), &wake()));
        assert_eq!(pictures.until(Instant(LONGEST_MS - 1)), Some(Duration::from_millis(1)));
        assert!(pictures.take_in(Instant(LONGEST_MS), &wake()));
        assert_eq!(
            words(&pictures),
            "The picture a.svg took longer than ten seconds to draw; save it simpler, or as PNG."
        );
        assert_eq!(pictures.until(Instant(LONGEST_MS)), None);
    }

    #[test]
    fn a_thread_that_broke_off_is_said() {
        let (sender, receiver) = channel();
        drop(sender);
        let mut pictures = held(State::Reading(receiver));
        assert!(pictures.take_in(Instant(0), &wake()));
        assert!(words(&pictures).contains("could not be drawn"));
    }

    #[test]
    fn no_more_than_four_are_decoded_at_once() {
        let mut pictures = Pictures::default();
        let busy: Vec<Running> = (0..MOST_AT_ONCE).map(|_| Running::one_more(&pictures.running)).collect();
        pictures.hold(Some((Path::new("/nowhere"), "a.png")), Instant(0), &wake());
        assert!(matches!(pictures.held.as_ref().map(|h| &h.state), Some(State::Waiting)));
        drop(busy);
        pictures.take_in(Instant(1), &wake());
        pictures.settle();
        assert!(matches!(pictures.view("a.png").state, PictureState::Failed(_)), "it was begun when there was room");
    }

    #[test]
    fn a_picture_is_fitted_without_a_side_of_nothing() {
        assert_eq!(fitted(2_880.0, 640.0, false), (1_440, 320));
        assert_eq!(fitted(10.0, 10.0, false), (10, 10));
        assert_eq!(fitted(10.0, 10.0, true), (640, 640));
        assert_eq!(fitted(100_000.0, 1.0, false), (1_440, 1));
    }
}
