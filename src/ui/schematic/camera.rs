//! Which part of the drawing is seen, and how large. Pure.

use eframe::egui::{Pos2, Rect, Vec2, pos2};

/// The zoom and the place that is looked at; fitted until the learner changes it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Camera {
    /// The learner's scale; none while the drawing is fitted.
    scale: Option<f32>,
    /// The drawing's point in the middle of the place, once it was moved.
    middle: Option<Pos2>,
}

/// A camera on a drawing in a place: from the drawing's points to the window's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sight {
    /// Points of the window for one of the drawing.
    pub scale: f32,
    /// Where the drawing's origin is.
    pub origin: Pos2,
    /// Where it is seen.
    pub place: Rect,
    /// Not all of it is seen.
    pub partial: bool,
}

/// The largest scale.
const LARGEST: f32 = 3.0;
/// By so much each key stroke zooms.
const STROKE: f32 = 1.25;
/// Below this scale words can no longer be read: the drawing is not made smaller than that by itself.
const READABLE: f32 = 0.7;

impl Camera {
    /// The sight of a drawing of this size in a place.
    pub fn sight(&self, size: Vec2, place: Rect) -> Sight {
        let fit = fit(size, place);
        let scale = self.scale.unwrap_or(fit.max(READABLE)).clamp(fit.min(READABLE), LARGEST);
        let shown = size * scale;
        let middle = self.middle.unwrap_or(pos2(0.0, 0.0));
        let axis = |shown: f32, middle: f32, low: f32, high: f32| {
            if shown <= high - low + 0.5 {
                // All of it: in the middle of the place.
                (low + high - shown) / 2.0
            } else {
                ((low + high) / 2.0 - middle * scale).clamp(high - shown, low)
            }
        };
        let origin = pos2(
            axis(shown.x, middle.x, place.left(), place.right()),
            axis(shown.y, middle.y, place.top(), place.bottom()),
        );
        let partial = shown.x > place.width() + 0.5 || shown.y > place.height() + 0.5;
        Sight { scale, origin, place, partial }
    }

    /// Zooms by a factor about a point of the window.
    pub fn zoom(&mut self, factor: f32, about: Pos2, size: Vec2, place: Rect) {
        let sight = self.sight(size, place);
        let fit = fit(size, place);
        let held = sight.back(about);
        let scale = (sight.scale * factor).clamp(fit.min(READABLE), LARGEST);
        self.scale = Some(scale);
        self.middle = Some(held + (place.center() - about) / scale);
        if factor < 1.0 && scale <= fit {
            *self = Self { scale: (fit < READABLE).then_some(fit), middle: None };
        }
    }

    /// One stroke of the zoom keys.
    pub fn stroke(&mut self, closer: bool, size: Vec2, place: Rect) {
        self.zoom(if closer { STROKE } else { 1.0 / STROKE }, place.center(), size, place);
    }

    /// All of the drawing.
    pub fn whole(&mut self, size: Vec2, place: Rect) {
        let fit = fit(size, place);
        *self = Self { scale: (fit < READABLE).then_some(fit), middle: None };
    }

    /// Moves the drawing by so many points of the window.
    pub fn pan(&mut self, by: Vec2, size: Vec2, place: Rect) {
        let sight = self.sight(size, place);
        let moved = Sight { origin: sight.origin + by, ..sight };
        self.middle = Some(moved.back(place.center()));
        // What cannot be moved further is not remembered as moved.
        let middle = self.sight(size, place).back(place.center());
        self.middle = Some(middle);
    }

    /// Moves the drawing as little as brings a part of it into sight.
    pub fn bring(&mut self, part: Rect, size: Vec2, place: Rect) {
        let sight = self.sight(size, place);
        let seen = sight.rect(part);
        let by = |low: f32, high: f32, from: f32, to: f32| {
            if high - low > to - from || low < from {
                from - low
            } else if high > to {
                to - high
            } else {
                0.0
            }
        };
        let by = Vec2::new(
            by(seen.left(), seen.right(), place.left(), place.right()),
            by(seen.top(), seen.bottom(), place.top(), place.bottom()),
        );
        if by != Vec2::ZERO {
            self.pan(by, size, place);
        }
    }
}

fn fit(size: Vec2, place: Rect) -> f32 {
    if size.x <= 0.0 || size.y <= 0.0 {
        return 1.0;
    }
    (place.width() / size.x).min(place.height() / size.y).clamp(0.05, 1.0)
}

impl Sight {
    /// A point of the drawing in the window.
    pub fn at(&self, point: Pos2) -> Pos2 {
        self.origin + point.to_vec2() * self.scale
    }

    /// A rectangle of the drawing in the window.
    pub fn rect(&self, rect: Rect) -> Rect {
        Rect::from_min_max(self.at(rect.min), self.at(rect.max))
    }

    /// A point of the window on the drawing.
    pub fn back(&self, point: Pos2) -> Pos2 {
        ((point - self.origin) / self.scale).to_pos2()
    }
}

#[cfg(test)]
mod tests {
    use eframe::egui::vec2;

    use super::*;

    const PLACE: Rect = Rect { min: Pos2::new(100.0, 50.0), max: Pos2::new(500.0, 250.0) };

    #[test]
    fn what_has_room_stands_in_the_middle_at_its_own_scale() {
        let sight = Camera::default().sight(vec2(200.0, 100.0), PLACE);
        assert_eq!((sight.scale, sight.origin, sight.partial), (1.0, pos2(200.0, 100.0), false));
    }

    #[test]
    fn what_is_larger_is_fitted_as_long_as_it_can_be_read() {
        let sight = Camera::default().sight(vec2(500.0, 100.0), PLACE);
        assert_eq!((sight.scale, sight.partial), (0.8, false));
        let sight = Camera::default().sight(vec2(4000.0, 100.0), PLACE);
        assert_eq!((sight.scale, sight.origin.x, sight.partial), (READABLE, 100.0, true));
        let mut camera = Camera::default();
        camera.whole(vec2(4000.0, 100.0), PLACE);
        let sight = camera.sight(vec2(4000.0, 100.0), PLACE);
        assert_eq!((sight.scale, sight.partial), (0.1, false), "all of it where it is asked for");
    }

    #[test]
    fn what_is_under_the_pointer_stays_there() {
        let (size, about) = (vec2(400.0, 200.0), pos2(300.0, 120.0));
        let mut camera = Camera::default();
        let before = camera.sight(size, PLACE).back(about);
        camera.zoom(1.5, about, size, PLACE);
        let after = camera.sight(size, PLACE);
        assert!((after.back(about) - before).length() < 0.01 && after.partial);
        camera.zoom(0.5, about, size, PLACE);
        assert_eq!(camera, Camera::default(), "far enough out it is fitted again");
    }

    #[test]
    fn it_is_moved_no_further_than_its_edges_and_to_what_is_sought() {
        let size = vec2(400.0, 200.0);
        let mut camera = Camera::default();
        camera.zoom(2.0, PLACE.center(), size, PLACE);
        camera.pan(vec2(10_000.0, 10_000.0), size, PLACE);
        assert_eq!(camera.sight(size, PLACE).origin, PLACE.min);
        camera.pan(vec2(-10.0, 0.0), size, PLACE);
        assert_eq!(camera.sight(size, PLACE).origin, PLACE.min - vec2(10.0, 0.0), "and comes back at once");
        let corner = Rect::from_min_size(pos2(380.0, 180.0), vec2(20.0, 20.0));
        camera.bring(corner, size, PLACE);
        assert!(PLACE.contains_rect(camera.sight(size, PLACE).rect(corner).shrink(0.01)));
    }
}
