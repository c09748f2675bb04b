//! What is laid over a drawing to mark one of its parts: how much of each dot lies inside of it, and how much in a rim
//! around it.

use resvg::tiny_skia::{FillRule, LineCap, LineJoin, Mask, Path, PathBuilder, Stroke, Transform};

use super::stop;
use crate::domain::drawing::{Drawing, Outlines, Part, Shape};

/// Most dots of all marks together; where there would be more, they are coarser.
const MOST_DOTS: f32 = 12_000_000.0;
/// Most pieces of one part that are cut off by clips one by one; more are marked whole.
const MOST_CUT: usize = 64;

/// The mark of a part.
pub struct Mark {
    /// The mark's left and upper edge on the picture, and its width and height there, in the picture's dots.
    pub place: [f32; 4],
    /// In its own dots, at least 1.
    pub width: u32,
    /// In its own dots, at least 1.
    pub height: u32,
    /// For each dot, row by row: how much of it lies in the rim, 0 to 255.
    pub rim: Vec<u8>,
    /// For each dot: how much of it lies inside.
    pub inside: Vec<u8>,
}

/// The marks of a drawing's parts on a picture of this size, with rims so wide, in dots; none for a part that lies off
/// the picture.
pub(super) fn of(drawing: &Drawing, width: u32, height: u32, rim: f32) -> Vec<Option<Mark>> {
    let scale = [width as f32 / drawing.size[0] as f32, height as f32 / drawing.size[1] as f32];
    let pieces: Vec<Vec<&Shape>> = (0..drawing.parts.len())
        .map(|part| drawing.shapes.iter().filter(|shape| drawing.lies_within(shape.part, part)).collect())
        .collect();
    let places: Vec<_> = drawing.parts.iter().map(|part| place(drawing, part, scale, [width, height], rim)).collect();
    let all: f32 = places.iter().flatten().map(|[_, _, wide, high]| wide * high).sum();
    let coarse = (all / MOST_DOTS).sqrt().max(1.0);
    let marks = pieces.iter().zip(places);
    marks
        .take_while(|_| !stop::is_stopped())
        .map(|(shapes, place)| Some(Stencil::new(drawing, place?, scale, coarse)?.mark(shapes, rim / coarse)))
        .collect()
}

/// The rectangle of whole dots in which a part lies.
fn place(drawing: &Drawing, part: &Part, scale: [f32; 2], [width, height]: [u32; 2], rim: f32) -> Option<[f32; 4]> {
    let [low, high] = part.bounds?;
    let dot = |at: [f64; 2], n: usize| (at[n] - drawing.origin[n]) as f32 * scale[n];
    let most = [width as f32, height as f32];
    let edge = |n: usize| {
        let from = (dot(low, n) - rim - 1.0).floor().clamp(0.0, most[n]);
        let to = (dot(high, n) + rim + 1.0).ceil().clamp(0.0, most[n]);
        (from, to - from)
    };
    let ((left, wide), (top, high)) = (edge(0), edge(1));
    (wide >= 1.0 && high >= 1.0).then_some([left, top, wide, high])
}

/// Where a part is drawn.
struct Stencil<'a> {
    drawing: &'a Drawing,
    place: [f32; 4],
    /// From the drawing's units, less its origin, to the mark's dots.
    scale: [f32; 2],
    coarse: f32,
    rim: Mask,
    inside: Mask,
}

impl<'a> Stencil<'a> {
    fn new(drawing: &'a Drawing, place: [f32; 4], scale: [f32; 2], coarse: f32) -> Option<Self> {
        let side = |length: f32| (length / coarse).ceil().max(1.0) as u32;
        let (width, height) = (side(place[2]), side(place[3]));
        let mask = || Mask::new(width, height);
        Some(Self { drawing, place, scale: scale.map(|s| s / coarse), coarse, rim: mask()?, inside: mask()? })
    }

    fn mark(mut self, shapes: &[&Shape], rim: f32) -> Mark {
        let stroke =
            Stroke { width: 2.0 * rim, line_cap: LineCap::Round, line_join: LineJoin::Round, ..Stroke::default() };
        for (n, shape) in shapes.iter().enumerate() {
            let Some(path) = self.path(&shape.outlines) else { continue };
            let around = path.stroke(&stroke, 1.0);
            let fill = rule(&shape.outlines);
            if shape.clips.is_empty() || n >= MOST_CUT {
                self.inside.fill_path(&path, fill, true, Transform::identity());
                if let Some(around) = around {
                    self.rim.fill_path(&around, FillRule::Winding, true, Transform::identity());
                }
                continue;
            }
            if let Some(cut) = self.cut(&path, fill, &shape.clips) {
                lay_over(&mut self.inside, &cut);
            }
            if let Some(cut) = around.and_then(|around| self.cut(&around, FillRule::Winding, &shape.clips)) {
                lay_over(&mut self.rim, &cut);
            }
        }
        let (width, height) = (self.inside.width(), self.inside.height());
        let inside = self.inside.take();
        let less = |(rim, inside): (u8, &u8)| (u16::from(rim) * u16::from(255 - inside) / 255) as u8;
        let rim = self.rim.take().into_iter().zip(&inside).map(less).collect();
        let [left, top, ..] = self.place;
        let place = [left, top, width as f32 * self.coarse, height as f32 * self.coarse];
        Mark { place, width, height, rim, inside }
    }

    /// A piece as its clips leave it.
    fn cut(&self, path: &Path, fill: FillRule, clips: &[usize]) -> Option<Mask> {
        let mut mask = Mask::new(self.inside.width(), self.inside.height())?;
        mask.fill_path(path, fill, true, Transform::identity());
        for clip in clips {
            let clip = self.path(self.drawing.clips.get(*clip)?)?;
            mask.intersect_path(&clip, FillRule::Winding, true, Transform::identity());
        }
        Some(mask)
    }

    fn path(&self, outlines: &Outlines) -> Option<Path> {
        let mut path = PathBuilder::new();
        let dot = |at: [f64; 2], n: usize| {
            let along = (at[n] - self.drawing.origin[n]) as f32 * self.scale[n];
            along - self.place[n] / self.coarse
        };
        for ring in &outlines.rings {
            for (n, at) in ring.iter().enumerate() {
                let (x, y) = (dot(*at, 0), dot(*at, 1));
                if n == 0 { path.move_to(x, y) } else { path.line_to(x, y) }
            }
            path.close();
        }
        path.finish()
    }
}

fn lay_over(mask: &mut Mask, more: &Mask) {
    mask.data_mut().iter_mut().zip(more.data()).for_each(|(dot, more)| *dot = (*dot).max(*more));
}

fn rule(outlines: &Outlines) -> FillRule {
    if outlines.even_odd { FillRule::EvenOdd } else { FillRule::Winding }
}
