//! The picture of the card that is shown, and the drawing that it points at: read and made on a thread of their own,
//! and kept while the card stays.

mod raster;
mod slot;

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use crate::deck::{PictureTrouble, read_picture};
use crate::domain::day::Instant;
use crate::domain::drawing::{Drawing, Pointing};
use crate::present::drawing::{DrawingPlace, DrawingState, DrawingView, Drawn, PartMark};
use crate::present::{Image, PictureState, PictureView};
use crate::store::Wake;
use crate::svg;
use slot::{Running, Slot};

/// Twice the largest place on the sheet, in dots, so that a picture is crisp at every scale of the interface.
const MOST_WIDE: u32 = 1_440;
/// See [`MOST_WIDE`].
const MOST_HIGH: u32 = 640;
/// The widest and highest drawing with parts, in dots.
const MOST_SIDE: u32 = 4_000;

/// Why a picture or a drawing cannot be shown.
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
    #[error("has changed since its deck was read; have the decks read again in the library")]
    Changed,
    #[error("took longer than ten seconds to draw; save it simpler, or as PNG")]
    Slow,
    #[error("could not be drawn; save it again, or as PNG")]
    Broken,
}

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
    /// The same drawing, wherever it goes.
    fn is_of(&self, other: &Self) -> bool {
        self.at == other.at && self.drawing.print == other.drawing.print
    }
}

/// What is shown of the card, if anything.
pub(super) struct Pictures {
    picture: Slot<At, Image>,
    drawing: Slot<DrawingAt, Drawn>,
    /// The drawing as it was drawn last, while it is drawn for another place.
    before: Option<(DrawingAt, Arc<Drawn>)>,
    /// Where drawings go, once a screen has said it.
    place: Option<DrawingPlace>,
    running: Running,
    unread: bool,
}

impl Default for Pictures {
    fn default() -> Self {
        Self {
            picture: Slot::new(read),
            drawing: Slot::new(draw),
            before: None,
            place: None,
            running: Running::default(),
            unread: false,
        }
    }
}

impl Pictures {
    /// The same for a program that starts anew: what is still being made counts on.
    pub(super) fn anew(&self) -> Self {
        Self { running: Arc::clone(&self.running), unread: self.unread, place: self.place, ..Self::default() }
    }

    /// Pictures are named and never read: for faces that cannot draw.
    pub(super) fn leave_unread(&mut self) {
        self.unread = true;
    }

    /// Whether this face cannot draw.
    pub(super) fn are_unread(&self) -> bool {
        self.unread
    }

    /// Drawings go here from now on.
    pub(super) fn draw_for(&mut self, place: DrawingPlace) {
        let side = |length: u32| length.clamp(1, MOST_SIDE);
        let rim = if place.rim.is_finite() { place.rim.clamp(0.5, 40.0) } else { 2.0 };
        self.place = Some(DrawingPlace { width: side(place.width), height: side(place.height), rim, ..place });
    }

    /// Holds the picture and the drawing that are wanted now, and begins to read what is another than before.
    pub(super) fn hold(
        &mut self,
        picture: Option<(&Path, &str)>,
        drawing: Option<(&Path, &Pointing)>,
        now: Instant,
        wake: &Wake,
    ) {
        let picture = picture.filter(|_| !self.unread).map(|(folder, name)| (folder.to_owned(), name.to_owned()));
        self.picture.hold(picture, now, wake, &self.running);
        let wanted = drawing.filter(|_| !self.unread).zip(self.place).map(|((folder, pointing), place)| DrawingAt {
            at: (folder.to_owned(), pointing.path.clone()),
            drawing: Arc::clone(&pointing.drawing),
            place,
        });
        if let Some((at, Some(Ok(drawn)))) = self.drawing.held() {
            self.before = Some((at.clone(), Arc::clone(drawn)));
        }
        self.before = self.before.take().filter(|(at, _)| wanted.as_ref().is_some_and(|wanted| wanted.is_of(at)));
        self.drawing.hold(wanted, now, wake, &self.running);
    }

    /// The files may have changed: they are read again when they are wanted.
    pub(super) fn forget(&mut self) {
        self.picture.forget();
        self.drawing.forget();
        self.before = None;
    }

    /// Takes in what has come, and gives up what takes too long; says whether anything has changed.
    pub(super) fn take_in(&mut self, now: Instant, wake: &Wake) -> bool {
        let picture = self.picture.take_in(now, wake, &self.running);
        self.drawing.take_in(now, wake, &self.running) || picture
    }

    /// Blocks until they are there or given up: for faces without frames.
    pub(super) fn settle(&mut self) {
        self.picture.settle();
        self.drawing.settle();
    }

    /// When something on its way will be given up.
    pub(super) fn until(&self, now: Instant) -> Option<Duration> {
        [self.picture.until(now), self.drawing.until(now)].into_iter().flatten().min()
    }

    /// The picture as data to draw.
    pub(super) fn view(&self, name: &str) -> PictureView {
        let state = match self.picture.held().filter(|(at, _)| at.1 == name) {
            Some((_, Some(Ok(image)))) => PictureState::Ready(Arc::clone(image)),
            Some((_, Some(Err(fault)))) => PictureState::Failed(format!("The picture {name} {fault}.")),
            _ => PictureState::Loading,
        };
        PictureView { name: name.to_owned(), state }
    }

    /// The drawing of a card as data to draw.
    pub(super) fn drawing_view(&self, pointing: &Pointing) -> DrawingView {
        let name = pointing.path.as_str();
        let is_it = |at: &DrawingAt| at.at.1 == name && at.drawing.print == pointing.drawing.print;
        let before = || self.before.as_ref().filter(|(at, _)| is_it(at)).map(|(_, drawn)| drawn);
        let state = match self.drawing.held().filter(|(at, _)| is_it(at)) {
            Some((_, Some(Ok(drawn)))) => DrawingState::Ready(Arc::clone(drawn)),
            Some((_, Some(Err(fault)))) => DrawingState::Failed(format!("The drawing {name} {fault}.")),
            _ => before().map_or(DrawingState::Loading, |drawn| DrawingState::Ready(Arc::clone(drawn))),
        };
        DrawingView { name: name.to_owned(), drawing: Arc::clone(&pointing.drawing), state }
    }
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

    #[test]
    fn a_picture_is_fitted_without_a_side_of_nothing() {
        assert_eq!(fitted(2_880.0, 640.0, false), (1_440, 320));
        assert_eq!(fitted(10.0, 10.0, false), (10, 10));
        assert_eq!(fitted(10.0, 10.0, true), (640, 640));
        assert_eq!(fitted(100_000.0, 1.0, false), (1_440, 1));
    }

    #[test]
    fn what_is_too_slow_is_said() {
        let slow = format!("The picture a.svg {}.", Fault::Slow);
        assert_eq!(slow, "The picture a.svg took longer than ten seconds to draw; save it simpler, or as PNG.");
    }
}
