//! The picture of the card that is shown, and the drawing that it points at: read and made in the background, and kept
//! while the card stays.

mod fault;
mod raster;
mod size;

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use crate::app::jobs::crew::Crew;
use crate::app::jobs::job::{Control, Job, JobFault, Polled, Prepared, Task};
use crate::deck::read_picture;
use crate::domain::day::Instant;
use crate::domain::drawing::{Drawing, Pointing};
use crate::present::drawing::{DrawingPlace, DrawingState, DrawingView, Drawn, PartMark};
use crate::present::{Image, PictureState, PictureView};
use crate::svg;
use fault::Fault;
use size::fitted;

/// The widest and highest drawing with parts, in dots.
const MOST_SIDE: u32 = 4_000;
/// After this time what is being made is given up.
const LONGEST: Duration = Duration::from_secs(10);
/// So many threads work at once, those given up among them until they have ended, so that bad pictures cannot take the
/// computer over: one for a card's picture, and one for its drawing.
const MOST_AT_ONCE: usize = 2;

/// Where a picture's file is: the deck's folder, and the path in it.
type At = (PathBuf, String);

/// A drawing and where it goes.
#[derive(Clone)]
struct DrawingAt {
    at: At,
    drawing: Arc<Drawing>,
    place: DrawingPlace,
}

impl PartialEq for DrawingAt {
    fn eq(&self, other: &Self) -> bool {
        self.is_of(other) && self.place == other.place
    }
}

impl DrawingAt {
    /// Whether the drawing is the other one, wherever each goes.
    fn is_of(&self, other: &Self) -> bool {
        self.at == other.at && self.drawing.print == other.drawing.print
    }
}

/// What became of a picture or a drawing.
type Made<T> = Result<Arc<T>, Fault>;

/// Work on a picture or a drawing, given up after ten seconds, with the room that drawings take.
const fn task<P, T>(work: fn(P, &Control) -> Made<T>) -> Task<P, Made<T>> {
    Task { thread: Some("picture"), stack: Some(svg::STACK), limit: Some(LONGEST), work }
}

/// The picture and the drawing of the card that is shown, if anything.
pub(in crate::app) struct PictureJob {
    picture: Job<At, At, Made<Image>>,
    drawing: Job<DrawingAt, DrawingAt, Made<Drawn>>,
    /// The drawing as it was drawn last, while it is drawn for another place.
    before: Option<(DrawingAt, Arc<Drawn>)>,
    /// Where drawings go, once a screen has said it.
    place: Option<DrawingPlace>,
    unread: bool,
    crew: Crew,
}

impl PictureJob {
    pub(super) fn new(crew: &Crew) -> Self {
        Self::of(crew.of_at_most(MOST_AT_ONCE))
    }

    fn of(crew: Crew) -> Self {
        Self {
            picture: Job::new(task(|at, control| made(control, || read(&at))), crew.clone()),
            drawing: Job::new(task(|at, control| made(control, || draw(&at))), crew.clone()),
            before: None,
            place: None,
            unread: false,
            crew,
        }
    }

    /// Nothing shown yet, for a program that starts anew: what is still being made counts on, and so does where drawings
    /// go.
    pub(super) fn anew(&self) -> Self {
        Self { unread: self.unread, place: self.place, ..Self::of(self.crew.clone()) }
    }

    /// Pictures are named and never read: for faces that cannot draw.
    pub(in crate::app) fn leave_unread(&mut self) {
        self.unread = true;
    }

    /// Whether this face cannot draw.
    pub(in crate::app) fn are_unread(&self) -> bool {
        self.unread
    }

    /// Drawings go here from now on.
    pub(in crate::app) fn draw_for(&mut self, place: DrawingPlace) {
        let side = |length: u32| length.clamp(1, MOST_SIDE);
        let rim = if place.rim.is_finite() { place.rim.clamp(0.5, 40.0) } else { 2.0 };
        self.place = Some(DrawingPlace { width: side(place.width), height: side(place.height), rim, ..place });
    }

    /// Has the picture and the drawing made that are wanted now, where they are others than before.
    pub(in crate::app) fn request(
        &mut self,
        picture: Option<(&Path, &str)>,
        drawing: Option<(&Path, &Pointing)>,
        now: Instant,
    ) {
        let picture = picture.filter(|_| !self.unread).map(|(folder, name)| (folder.to_owned(), name.to_owned()));
        let wanted = drawing.filter(|_| !self.unread).zip(self.place).map(|((folder, pointing), place)| DrawingAt {
            at: (folder.to_owned(), pointing.path.clone()),
            drawing: Arc::clone(&pointing.drawing),
            place,
        });
        if let (Some(at), Some(Ok(Ok(drawn)))) = (self.drawing.question(), self.drawing.result()) {
            self.before = Some((at.clone(), Arc::clone(drawn)));
        }
        self.before = self.before.take().filter(|(at, _)| wanted.as_ref().is_some_and(|wanted| wanted.is_of(at)));
        ask(&mut self.picture, picture, now);
        ask(&mut self.drawing, wanted, now);
    }

    /// The files may have changed: they are read again when they are wanted.
    pub(in crate::app) fn forget(&mut self) {
        self.picture.cancel();
        self.drawing.cancel();
        self.before = None;
    }

    /// Takes in what has come, and gives up what takes too long; says whether anything has changed.
    pub(super) fn poll(&mut self, now: Instant) -> bool {
        let picture = self.picture.poll(now) == Polled::Ended;
        self.drawing.poll(now) == Polled::Ended || picture
    }

    /// Blocks until they are there or given up: for faces without frames.
    pub(super) fn wait(&mut self) {
        self.picture.wait();
        self.drawing.wait();
    }

    /// When something on its way will be given up.
    pub(super) fn until(&self, now: Instant) -> Option<Duration> {
        [self.picture.until(now), self.drawing.until(now)].into_iter().flatten().min()
    }

    /// The picture as data to draw.
    pub(in crate::app) fn view(&self, name: &str) -> PictureView {
        let of_name = self.picture.question().is_some_and(|at| at.1 == name);
        let state = match self.picture.result().filter(|_| of_name).map(told) {
            Some(Ok(image)) => PictureState::Ready(image),
            Some(Err(fault)) => PictureState::Failed(format!("The picture {name} {fault}.")),
            None => PictureState::Loading,
        };
        PictureView { name: name.to_owned(), state }
    }

    /// The drawing of a card as data to draw.
    pub(in crate::app) fn drawing_view(&self, pointing: &Pointing) -> DrawingView {
        let name = pointing.path.as_str();
        let is_it = |at: &DrawingAt| at.at.1 == name && at.drawing.print == pointing.drawing.print;
        let before = || self.before.as_ref().filter(|(at, _)| is_it(at)).map(|(_, drawn)| drawn);
        let asked = self.drawing.question().is_some_and(is_it);
        let state = match self.drawing.result().filter(|_| asked).map(told) {
            Some(Ok(drawn)) => DrawingState::Ready(drawn),
            Some(Err(fault)) => DrawingState::Failed(format!("The drawing {name} {fault}.")),
            None => before().map_or(DrawingState::Loading, |drawn| DrawingState::Ready(Arc::clone(drawn))),
        };
        DrawingView { name: name.to_owned(), drawing: Arc::clone(&pointing.drawing), state }
    }
}

/// Has `wanted` made, where it is another than before; nothing, where nothing is wanted.
fn ask<K, T>(job: &mut Job<K, K, Made<T>>, wanted: Option<K>, now: Instant)
where
    K: Clone + PartialEq + Send + 'static,
    T: Send + Sync + 'static,
{
    match wanted {
        Some(wanted) => {
            job.request(wanted, now, |wanted| Prepared::Ready(wanted.clone()));
        }
        None => job.cancel(),
    }
}

/// What was made, or why it was not.
fn told<T>(result: Result<&Made<T>, &JobFault>) -> Made<T> {
    match result {
        Ok(made) => made.clone(),
        Err(JobFault::TooSlow) => Err(Fault::Slow),
        Err(JobFault::Panicked | JobFault::Store(_)) => Err(Fault::Broken),
    }
}

/// Makes something on this thread for as long as it is wanted.
fn made<T>(control: &Control, make: impl FnOnce() -> Result<T, Fault>) -> Made<T> {
    svg::until(&svg::Stop::by(control.flag()), make).map(Arc::new)
}

fn read((folder, name): &At) -> Result<Image, Fault> {
    let bytes = read_picture(folder, name)?;
    let is_drawing = name.rsplit_once('.').is_some_and(|(_, ending)| ending.eq_ignore_ascii_case("svg"));
    if is_drawing {
        Ok(image(svg::draw(&bytes, |width, height| fitted(width, height, true))?))
    } else {
        raster::decode(&bytes)
    }
}

/// Draws a drawing with its marks, once it is known to be the one whose parts the deck knows.
fn draw(DrawingAt { at: (folder, name), drawing, place }: &DrawingAt) -> Result<Drawn, Fault> {
    let bytes = read_picture(folder, name)?;
    if svg::print(&bytes) != drawing.print {
        return Err(Fault::Changed);
    }
    let (dots, marks) = svg::draw_with_marks(&bytes, drawing, (place.width, place.height), place.rim)?;
    let mut image = image(dots);
    if let Some(tint) = &place.tint {
        tint.apply(&mut image.rgba);
    }
    let mark = |svg::Mark { place, width, height, rim, inside }| PartMark { place, width, height, rim, inside };
    Ok(Drawn { place: *place, image, marks: marks.into_iter().map(|one| one.map(mark)).collect() })
}

fn image(svg::Dots { width, height, rgba }: svg::Dots) -> Image {
    Image { width, height, rgba }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Eight cards are leafed through: of what each of them began nothing goes on.
    #[test]
    fn what_is_no_longer_wanted_is_not_made_to_its_end() {
        // Draws on and on, as a drawing without end would.
        let endless = |_: u8, control: &Control| -> Made<()> {
            let drawing = b"<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'/>";
            made(control, || {
                loop {
                    svg::draw(drawing, |_, _| (9, 9))?;
                }
            })
        };
        let crew = Crew::new(Arc::new(|| {}));
        let mut job = Job::new(task(endless), crew.of_at_most(MOST_AT_ONCE));
        for card in 0..8 {
            ask(&mut job, Some(card), Instant(0));
            job.poll(Instant(0));
            assert!(crew.at_work() <= MOST_AT_ONCE);
        }
        ask(&mut job, None, Instant(0));
        assert!(crew.wait_for_all(Duration::from_secs(60)), "a thread goes on");
    }

    #[test]
    fn what_takes_too_long_or_breaks_off_is_said() {
        let job = |work| Job::<u8, u8, Made<u8>>::new(task(work), Crew::new(Arc::new(|| {})));
        let mut hangs = job(|_, control| {
            while control.is_wanted() {
                std::thread::yield_now();
            }
            Ok(Arc::new(1))
        });
        ask(&mut hangs, Some(1), Instant(0));
        assert_eq!(hangs.poll(Instant(9_999)), Polled::Nothing);
        assert_eq!(hangs.poll(Instant(10_000)), Polled::Ended);
        assert_eq!(hangs.result().map(told), Some(Err(Fault::Slow)));
        let mut breaks = job(|_, _| panic!("as asked"));
        ask(&mut breaks, Some(1), Instant(0));
        breaks.wait();
        assert_eq!(breaks.result().map(told), Some(Err(Fault::Broken)));
    }

    #[test]
    fn what_is_too_slow_is_said() {
        let slow = format!("The picture a.svg {}.", Fault::Slow);
        assert_eq!(slow, "The picture a.svg took longer than ten seconds to draw; save it simpler, or as PNG.");
    }
}
