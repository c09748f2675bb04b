//! A drawing that is pointed at becomes the outlines of its parts, in its own units: curves as short lines, lines as
//! wide as they are drawn and no thinner than can be hit.

use resvg::tiny_skia::{Path as Line, PathSegment, Point, Transform};
use resvg::usvg::{ClipPath, FillRule, Group, Node, Path, Text};
use sha2::{Digest, Sha256};

use super::parts::{self, Elements};
use super::{Fault, For, guard, stop, tree};
use crate::domain::drawing::{Drawing, Outlines, Part, Shape};

/// Most corners of all outlines together.
const MOST_CORNERS: usize = 120_000;
/// Most straight pieces of a curve.
const MOST_PIECES: f32 = 64.0;
/// How far a straight piece may lie from its curve: a share of the drawing's longer side.
const FLAT: f32 = 0.000_3;
/// A drawn line is at least so wide for the pointer: a share of the drawing's longer side.
const THINNEST: f32 = 0.006;
/// The drawing's longer side in dots, for the survey of what it takes to draw it: the widest window at twice its size.
const WIDEST: f32 = 4_000.0;

/// A drawing with its parts.
#[derive(Debug, Clone, PartialEq)]
pub struct Outlined {
    /// The parts that can be seen.
    pub drawing: Drawing,
    /// Ids of parts that have a name from their id only.
    pub unnamed: Vec<String>,
    /// What is written on the drawing.
    pub lettering: Vec<String>,
}

/// Reads a drawing to point at. `asked` is an element that is a part even where it has no name.
///
/// # Errors
/// Where it is no drawing, or holds what may not be in one that is pointed at.
pub fn outline(bytes: &[u8], asked: Option<&str>) -> Result<Outlined, Fault> {
    let outlined = || {
        let text = guard::text(bytes)?;
        let document = guard::document(text, For::Pointing)?;
        stop::step()?;
        let tree = tree::of(&document)?;
        stop::step()?;
        let (width, height) = (tree.size().width(), tree.size().height());
        tree::survey(&tree, WIDEST / width.max(height))?;
        let into = parts::into_own_units(&document, width, height)?;
        let mut corners = [Point::from_xy(0.0, 0.0), Point::from_xy(width, height)];
        into.map_points(&mut corners);
        let [low, high] = corners;
        let size = [f64::from(high.x - low.x), f64::from(high.y - low.y)];
        let longer = (high.x - low.x).max(high.y - low.y);
        let elements = Elements::of(&document, asked)?;
        let mut walk = Walk {
            met: vec![None; elements.list.len()],
            elements,
            into,
            longer,
            corners_left: MOST_CORNERS,
            order: Vec::new(),
            shapes: Vec::new(),
            clips: Vec::new(),
        };
        walk.group(tree.root(), None, &[])?;
        let mut drawing = Drawing { origin: [f64::from(low.x), f64::from(low.y)], size, ..Drawing::default() };
        drawing.print = print(bytes);
        Ok(Outlined { lettering: parts::lettering(&document), ..walk.into_drawing(drawing)? })
    };
    outlined().map_err(|fault: Fault| Fault { mend: fault.mend.replace(", or as PNG", ""), ..fault })
}

/// A number that changes with a file, and is the same on every computer and in every version of the program.
pub fn print(bytes: &[u8]) -> u64 {
    Sha256::digest(bytes).iter().take(8).fold(0, |print, byte| print << 8 | u64::from(*byte))
}

/// A walk over what is drawn, from the hindmost.
struct Walk {
    elements: Elements,
    /// From the engine's units to the drawing's.
    into: Transform,
    /// The drawing's longer side.
    longer: f32,
    corners_left: usize,
    /// The elements in the order in which they are first met.
    order: Vec<usize>,
    /// For each element that has been met, the one that it stood in then.
    met: Vec<Option<Option<usize>>>,
    /// With elements in the place of parts.
    shapes: Vec<Shape>,
    clips: Vec<Outlines>,
}

impl Walk {
    /// The element that stands here: a part of this id, or the one that it stands in. What a part uses in its place
    /// is that part.
    fn element(&mut self, id: &str, within: Option<usize>) -> Option<usize> {
        let in_use = within.is_some_and(|within| self.elements.list[within].is_use);
        let Some(element) = self.elements.find(id).filter(|_| !in_use && !id.is_empty()) else { return within };
        if self.met[element].is_none() {
            self.met[element] = Some(within);
            self.order.push(element);
        }
        Some(element)
    }

    fn group(&mut self, group: &Group, within: Option<usize>, clips: &[usize]) -> Result<(), Fault> {
        let element = self.element(group.id(), within);
        let mut clips = clips.to_vec();
        let mut next = group.clip_path();
        while let Some(clip) = next {
            clips.push(self.clip(clip, group.abs_transform())?);
            next = clip.clip_path();
        }
        for node in group.children() {
            stop::step()?;
            match node {
                Node::Group(inner) => self.group(inner, element, &clips)?,
                Node::Path(path) => self.path(path, element, &clips)?,
                Node::Text(text) => self.text(text, element, &clips)?,
                // Refused by the guard.
                Node::Image(_) => {}
            }
        }
        Ok(())
    }

    fn path(&mut self, path: &Path, within: Option<usize>, clips: &[usize]) -> Result<(), Fault> {
        let Some(part) = self.element(path.id(), within).filter(|_| path.is_visible()) else { return Ok(()) };
        let place = self.into.pre_concat(path.abs_transform());
        let add = |walk: &mut Self, line: &Line, even_odd, hollow| {
            let outlines = Outlines::new(walk.rings(line, place)?, even_odd);
            if outlines.bounds().is_some() {
                walk.shapes.push(Shape { part, outlines, hollow, clips: clips.to_vec() });
            }
            Ok::<(), Fault>(())
        };
        match path.fill() {
            Some(fill) => add(self, path.data(), fill.rule() == FillRule::EvenOdd, false)?,
            None => {
                if let Some(closed) = closed(path.data()) {
                    add(self, &closed, true, true)?;
                }
            }
        }
        if let Some(stroke) = path.stroke() {
            let mut stroke = stroke.to_tiny_skia();
            let (x, y) = place.get_scale();
            let scale = (x * y).abs().sqrt();
            // Also where the scale is nought or no number: the rings are looked at below.
            if scale > 0.0 {
                stroke.width = stroke.width.max(THINNEST * self.longer / scale);
            }
            if path.data().len() > self.corners_left {
                return Err(too_many());
            }
            if let Some(wide) = path.data().stroke(&stroke, (1_000.0 / self.longer) * scale) {
                add(self, &wide, false, false)?;
            }
        }
        Ok(())
    }

    /// Text counts as the upright rectangle that it stands in.
    fn text(&mut self, text: &Text, within: Option<usize>, clips: &[usize]) -> Result<(), Fault> {
        let Some(part) = self.element(text.id(), within).filter(|_| is_seen(text.flattened())) else { return Ok(()) };
        let b = text.bounding_box();
        let mut ring = [(b.left(), b.top()), (b.right(), b.top()), (b.right(), b.bottom()), (b.left(), b.bottom())]
            .map(|(x, y)| Point::from_xy(x, y));
        self.into.pre_concat(text.abs_transform()).map_points(&mut ring);
        let ring = ring.into_iter().map(finite).collect::<Result<Vec<_>, _>>()?;
        self.corners_left = self.corners_left.checked_sub(ring.len()).ok_or_else(too_many)?;
        let outlines = Outlines::new(vec![ring], false);
        self.shapes.push(Shape { part, outlines, hollow: false, clips: clips.to_vec() });
        Ok(())
    }

    /// Reads a clip, which stands in the units of the group that it cuts off.
    fn clip(&mut self, clip: &ClipPath, of: Transform) -> Result<usize, Fault> {
        let place = self.into.pre_concat(of).pre_concat(clip.transform());
        let mut rings = Vec::new();
        let mut groups = vec![clip.root()];
        while let Some(group) = groups.pop() {
            for node in group.children() {
                match node {
                    Node::Group(inner) => groups.push(inner),
                    Node::Text(text) => groups.push(text.flattened()),
                    Node::Path(path) if path.is_visible() => {
                        rings.extend(self.rings(path.data(), place.pre_concat(path.abs_transform()))?);
                    }
                    Node::Path(_) | Node::Image(_) => {}
                }
            }
        }
        self.clips.push(Outlines::new(rings, false));
        Ok(self.clips.len() - 1)
    }

    /// A path as closed rings.
    fn rings(&mut self, line: &Line, place: Transform) -> Result<Vec<Vec<[f64; 2]>>, Fault> {
        let mut rings: Vec<Vec<[f64; 2]>> = Vec::new();
        let flat = FLAT * self.longer;
        let mut at = Point::from_xy(0.0, 0.0);
        let moved = |mut point: Point| {
            place.map_point(&mut point);
            point
        };
        for segment in line.segments() {
            let (curve, end) = match segment {
                PathSegment::MoveTo(to) => {
                    rings.push(Vec::new());
                    (Curve::Line, moved(to))
                }
                PathSegment::LineTo(to) => (Curve::Line, moved(to)),
                PathSegment::QuadTo(by, to) => (Curve::Quad(moved(by)), moved(to)),
                PathSegment::CubicTo(by, and, to) => (Curve::Cubic(moved(by), moved(and)), moved(to)),
                PathSegment::Close => continue,
            };
            let pieces = curve.pieces(at, end, flat);
            self.corners_left = self.corners_left.checked_sub(pieces).ok_or_else(too_many)?;
            let Some(ring) = rings.last_mut() else { continue };
            for n in 1..=pieces {
                ring.push(finite(curve.point(at, end, n as f32 / pieces as f32))?);
            }
            at = end;
        }
        Ok(rings)
    }

    fn into_drawing(self, mut drawing: Drawing) -> Result<Outlined, Fault> {
        let Self { elements, order, met, mut shapes, clips, .. } = self;
        let within = |element: usize| met[element].flatten();
        let mut drawn = vec![false; elements.list.len()];
        for shape in &shapes {
            // Each was met after the one that it stood in.
            let mut next = Some(shape.part);
            while let Some(element) = next.filter(|element| !drawn[*element]) {
                drawn[element] = true;
                next = within(element);
            }
        }
        elements.judge(&drawn)?;
        let mut numbers = vec![0; drawn.len()];
        let mut unnamed = Vec::new();
        for element in order.into_iter().filter(|element| drawn[*element]) {
            numbers[element] = drawing.parts.len();
            let within = within(element).map(|whole| numbers[whole]);
            let element = &elements.list[element];
            if element.name.is_none() {
                unnamed.push(element.id.clone());
            }
            drawing.parts.push(Part {
                id: element.id.clone(),
                name: element.name.clone().unwrap_or_else(|| element.id.replace(['-', '_'], " ")),
                look: element.look.clone(),
                within,
                bounds: None,
            });
        }
        for shape in &mut shapes {
            shape.part = numbers[shape.part];
        }
        drawing.others = elements.others;
        let unseen = elements.list.into_iter().zip(drawn).filter(|(_, drawn)| !drawn);
        drawing.others.extend(unseen.map(|(element, _)| element.id));
        drawing.shapes = shapes;
        drawing.clips = clips;
        drawing.measure();
        Ok(Outlined { drawing, unnamed, lettering: Vec::new() })
    }
}

fn too_many() -> Fault {
    Fault::too_many("its outlines have too many corners")
}

fn finite(point: Point) -> Result<[f64; 2], Fault> {
    if point.is_finite() {
        Ok([f64::from(point.x), f64::from(point.y)])
    } else {
        Err(Fault::unsound("it has a point that lies beyond all numbers"))
    }
}

fn is_seen(group: &Group) -> bool {
    group.children().iter().any(|node| match node {
        Node::Group(inner) => is_seen(inner),
        Node::Path(path) => path.is_visible(),
        Node::Text(_) | Node::Image(_) => false,
    })
}

/// The pieces of a path that are closed, or end where they began.
fn closed(line: &Line) -> Option<Line> {
    let segments: Vec<PathSegment> = line.segments().collect();
    let mut builder = resvg::tiny_skia::PathBuilder::new();
    for piece in segments.chunk_by(|_, next| !matches!(next, PathSegment::MoveTo(_))) {
        let ends = |segment: &PathSegment| match *segment {
            PathSegment::MoveTo(to) | PathSegment::LineTo(to) => Some(to),
            PathSegment::QuadTo(_, to) | PathSegment::CubicTo(_, _, to) => Some(to),
            PathSegment::Close => None,
        };
        let last = piece.last().and_then(ends);
        if last.is_some() && last != piece.first().and_then(ends) {
            continue;
        }
        for segment in piece {
            match *segment {
                PathSegment::MoveTo(to) => builder.move_to(to.x, to.y),
                PathSegment::LineTo(to) => builder.line_to(to.x, to.y),
                PathSegment::QuadTo(by, to) => builder.quad_to(by.x, by.y, to.x, to.y),
                PathSegment::CubicTo(by, and, to) => builder.cubic_to(by.x, by.y, and.x, and.y, to.x, to.y),
                PathSegment::Close => builder.close(),
            }
        }
    }
    builder.finish()
}

/// How a segment gets from one point to the next.
enum Curve {
    Line,
    Quad(Point),
    Cubic(Point, Point),
}

impl Curve {
    /// How many straight pieces lie near enough to it: a curve of second derivative d lies within d / 8 n² of n equal
    /// chords (the error of linear interpolation).
    fn pieces(&self, from: Point, to: Point, flat: f32) -> usize {
        let bend = |a: Point, b: Point, c: Point| (a.x - 2.0 * b.x + c.x).hypot(a.y - 2.0 * b.y + c.y);
        let second = match *self {
            Curve::Line => return 1,
            Curve::Quad(by) => 2.0 * bend(from, by, to),
            Curve::Cubic(by, and) => 6.0 * bend(from, by, and).max(bend(by, and, to)),
        };
        // NaN counts as the minimum; its points are looked at as they come.
        (second / (8.0 * flat)).sqrt().ceil().clamp(1.0, MOST_PIECES).max(1.0) as usize
    }

    fn point(&self, from: Point, to: Point, share: f32) -> Point {
        let mix = |weights: &[(f32, Point)]| {
            let (x, y) = weights.iter().fold((0.0, 0.0), |(x, y), (w, p)| (x + w * p.x, y + w * p.y));
            Point::from_xy(x, y)
        };
        let (t, u) = (share, 1.0 - share);
        match *self {
            Curve::Line => to,
            Curve::Quad(by) => mix(&[(u * u, from), (2.0 * u * t, by), (t * t, to)]),
            Curve::Cubic(by, and) => {
                mix(&[(u * u * u, from), (3.0 * u * u * t, by), (3.0 * u * t * t, and), (t * t * t, to)])
            }
        }
    }
}
