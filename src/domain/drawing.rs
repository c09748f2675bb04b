//! A drawing with parts that can be pointed at: which part lies under a point. Pure: the outlines have been read from
//! the deck's file. All lengths are in the drawing's own units, with y downwards.

use std::collections::BTreeSet;
use std::sync::Arc;

/// How near to a line still counts as on it, where nothing else lies there: a share of the drawing's longer side.
const NEAR: f64 = 0.005;

/// How far beyond the edge is still on the drawing: a share of its longer side.
const EDGE: f64 = 1e-6;

/// A drawing with named parts.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Drawing {
    /// The upper left corner.
    pub origin: [f64; 2],
    /// Width and height.
    pub size: [f64; 2],
    /// In the order of the file, in which they are stepped through.
    pub parts: Vec<Part>,
    /// What the parts consist of, from the hindmost to the foremost.
    pub shapes: Vec<Shape>,
    /// Regions outside of which a shape is cut off, as the shapes name them.
    pub clips: Vec<Outlines>,
    /// Ids of elements that are no parts, or that cannot be seen.
    pub others: Vec<String>,
    /// Changes with the file, so that a drawing and its picture are known to be of the same one.
    pub print: u64,
}

/// A part that can be pointed at.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Part {
    /// Id of the part's element in the drawing.
    pub id: String,
    /// Name of the part for people.
    pub name: String,
    /// Where it lies and how it looks, without its name, for those who cannot see the drawing.
    pub look: Option<String>,
    /// The next larger part that it is a piece of; it stands before this one.
    pub within: Option<usize>,
    /// The upper left and the lower right corner of the rectangle around it with its pieces, once it is
    /// [measured](Drawing::measure).
    pub bounds: Option<[[f64; 2]; 2]>,
}

/// A piece of a part.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    /// The innermost part that it belongs to.
    pub part: usize,
    /// What it covers.
    pub outlines: Outlines,
    /// Whether this is the inside of an outline with no colour in it, which gives way to what lies wholly inside of it.
    pub hollow: bool,
    /// The clips that cut it off.
    pub clips: Vec<usize>,
}

/// Closed outlines with what is inside of them.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Outlines {
    /// Of three points and more each; the last is joined to the first.
    pub rings: Vec<Vec<[f64; 2]>>,
    /// What lies inside an even number of rings is outside; else what they go round as often either way is.
    pub even_odd: bool,
    /// The corners of the upright rectangle around them.
    bounds: [[f64; 2]; 2],
}

/// A part to find on a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Pointing {
    /// The drawing's path inside the deck's folder with `/` between its parts.
    pub path: String,
    /// The part to find, by its id.
    pub part: String,
    /// The drawing.
    pub drawing: Arc<Drawing>,
}

impl Pointing {
    /// The part to find.
    pub fn target(&self) -> Option<usize> {
        self.drawing.part(&self.part)
    }

    /// Name of the part for people.
    pub fn name(&self) -> Option<&str> {
        Some(self.drawing.parts[self.target()?].name.as_str())
    }
}

impl Drawing {
    /// The part of this id.
    pub fn part(&self, id: &str) -> Option<usize> {
        self.parts.iter().position(|part| part.id == id)
    }

    /// Finds the rectangles around the parts.
    pub fn measure(&mut self) {
        let join = |into: &mut Option<[[f64; 2]; 2]>, [low, high]: [[f64; 2]; 2]| {
            let [from, to] = into.get_or_insert([low, high]);
            for n in 0..2 {
                (from[n], to[n]) = (from[n].min(low[n]), to[n].max(high[n]));
            }
        };
        for shape in &self.shapes {
            if let (Some(bounds), Some(part)) = (shape.outlines.bounds(), self.parts.get_mut(shape.part)) {
                join(&mut part.bounds, bounds);
            }
        }
        // A whole stands before its pieces.
        for part in (0..self.parts.len()).rev() {
            if let (Some(bounds), Some(whole)) =
                (self.parts[part].bounds, self.parts[part].within.filter(|w| *w < part))
            {
                join(&mut self.parts[whole].bounds, bounds);
            }
        }
    }

    /// Whether a point lies on the drawing.
    pub fn holds(&self, [x, y]: [f64; 2]) -> bool {
        let [left, top] = self.origin;
        let [width, height] = self.size;
        // The edge is known to single precision only.
        let edge = EDGE * width.max(height);
        (left - edge..=left + width + edge).contains(&x) && (top - edge..=top + height + edge).contains(&y)
    }

    /// Whether a part is another or a piece of it.
    pub fn lies_within(&self, part: usize, whole: usize) -> bool {
        // A part's whole stands before it, so that this comes to an end.
        std::iter::successors(Some(part), |part| self.parts.get(*part)?.within.filter(|w| w < part))
            .any(|part| part == whole)
    }

    /// The foremost part under a point, else the part with the nearest line that is near enough. An outline without
    /// colour in it counts as filled, but gives way to what lies wholly inside of it.
    pub fn part_at(&self, at: [f64; 2]) -> Option<usize> {
        if !self.holds(at) {
            return None;
        }
        let there = self.shapes.iter().rev().filter(|shape| shape.outlines.holds(at) && self.uncut(shape, at));
        let foremost =
            there.reduce(
                |front, behind| {
                    if front.hollow && behind.outlines.lie_inside(&front.outlines) { behind } else { front }
                },
            );
        let nearest = || {
            let near = NEAR * self.size[0].max(self.size[1]);
            let painted = self.shapes.iter().rev().filter(|shape| !shape.hollow && shape.clips.is_empty());
            let far = painted.map(|shape| (shape, shape.outlines.distance(at, near)));
            far.filter(|(_, far)| *far <= near).min_by(|a, b| a.1.total_cmp(&b.1)).map(|(shape, _)| shape)
        };
        foremost.or_else(nearest).map(|shape| shape.part)
    }

    /// Whether there is a point that hits this part.
    pub fn can_be_found(&self, part: usize) -> bool {
        /// So many shapes are looked at, the foremost first, and so many rows and places of each.
        const SHAPES: usize = 32;
        const ROWS: usize = 16;
        const PLACES: usize = 24;
        let of_part = self.shapes.iter().rev().filter(|shape| self.lies_within(shape.part, part));
        of_part.take(SHAPES).any(|shape| {
            let places = shape.outlines.insides(ROWS, PLACES);
            places.into_iter().any(|at| self.part_at(at).is_some_and(|found| self.lies_within(found, part)))
        })
    }

    /// The parts from which one can be chosen by how they look, in words alone: those that say it, each in other words
    /// than the rest.
    ///
    /// # Errors
    /// Where this part cannot be chosen so: it does not say how it looks, or says the same as another, which is given;
    /// or there is no other to choose.
    pub fn told_apart(&self, part: usize) -> Result<Vec<usize>, Option<usize>> {
        let look = |n: usize| self.parts.get(n).and_then(|part| part.look.as_deref());
        if look(part).is_none() {
            return Err(None);
        }
        let others = (0..self.parts.len()).filter(|n| look(*n).is_some() && *n != part);
        if let Some(same) = others.clone().find(|n| look(*n) == look(part)) {
            return Err(Some(same));
        }
        let mut said = BTreeSet::new();
        let choice: Vec<usize> = (0..self.parts.len()).filter(|n| look(*n).is_some_and(|l| said.insert(l))).collect();
        if choice.len() > 1 { Ok(choice) } else { Err(None) }
    }

    fn uncut(&self, shape: &Shape, at: [f64; 2]) -> bool {
        shape.clips.iter().all(|clip| self.clips.get(*clip).is_some_and(|clip| clip.holds(at)))
    }
}

impl Outlines {
    /// Outlines with their rectangle; rings of fewer than three points are left out.
    pub fn new(mut rings: Vec<Vec<[f64; 2]>>, even_odd: bool) -> Self {
        rings.retain(|ring| ring.len() > 2);
        let mut bounds = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];
        for [x, y] in rings.iter().flatten() {
            bounds[0] = [bounds[0][0].min(*x), bounds[0][1].min(*y)];
            bounds[1] = [bounds[1][0].max(*x), bounds[1][1].max(*y)];
        }
        Self { rings, even_odd, bounds }
    }

    /// The upper left and the lower right corner of the rectangle around them; none where there are none.
    pub fn bounds(&self) -> Option<[[f64; 2]; 2]> {
        (!self.rings.is_empty()).then_some(self.bounds)
    }

    /// Whether a point lies inside.
    pub fn holds(&self, [x, y]: [f64; 2]) -> bool {
        let [low, high] = self.bounds;
        if !(low[0] <= x && x <= high[0] && low[1] <= y && y <= high[1]) {
            return false;
        }
        // How often, and which way, the rings go round the point: counted where they cross the ray to its right.
        let mut winding = 0_i64;
        for ring in &self.rings {
            for (from, to) in edges(ring) {
                if (from[1] <= y) != (to[1] <= y) {
                    let cross = from[0] + (y - from[1]) / (to[1] - from[1]) * (to[0] - from[0]);
                    if cross > x {
                        winding += if to[1] > from[1] { 1 } else { -1 };
                    }
                }
            }
        }
        if self.even_odd { winding % 2 != 0 } else { winding != 0 }
    }

    /// At most so many points inside, in the middle between edges, on so many rows from the top to the bottom.
    fn insides(&self, rows: usize, most: usize) -> Vec<[f64; 2]> {
        let Some([low, high]) = self.bounds() else { return Vec::new() };
        let mut found = Vec::new();
        for row in 0..rows {
            let y = low[1] + (high[1] - low[1]) * (row as f64 + 0.5) / rows as f64;
            let all = self.rings.iter().flat_map(|ring| edges(ring));
            let crossing = all.filter(|(from, to)| (from[1] <= y) != (to[1] <= y));
            // Where an edge crosses the row, and which way.
            let mut at: Vec<(f64, i64)> = crossing
                .map(|(from, to)| {
                    let x = from[0] + (y - from[1]) / (to[1] - from[1]) * (to[0] - from[0]);
                    (x, if to[1] > from[1] { 1 } else { -1 })
                })
                .collect();
            at.sort_by(|a, b| a.0.total_cmp(&b.0));
            // The rings go round what lies left of an edge as often as the edges from there on to the right say.
            let mut winding: i64 = at.iter().map(|(_, way)| way).sum();
            for pair in at.windows(2) {
                winding -= pair[0].1;
                let inside = if self.even_odd { winding % 2 != 0 } else { winding != 0 };
                let middle = (pair[0].0 + pair[1].0) / 2.0;
                if inside && pair[0].0 < middle && middle < pair[1].0 {
                    found.push([middle, y]);
                    if found.len() == most {
                        return found;
                    }
                }
            }
        }
        found
    }

    /// The distance from a point to the nearest edge; infinite where it is surely more than `most`.
    fn distance(&self, [x, y]: [f64; 2], most: f64) -> f64 {
        let [low, high] = self.bounds;
        if !(low[0] - most <= x && x <= high[0] + most && low[1] - most <= y && y <= high[1] + most) {
            return f64::INFINITY;
        }
        let edges = self.rings.iter().flat_map(|ring| edges(ring));
        edges.map(|(from, to)| to_edge([x, y], from, to)).fold(f64::INFINITY, f64::min)
    }

    /// Whether the rectangle around these lies inside the one around others.
    fn lie_inside(&self, others: &Self) -> bool {
        let ([low, high], [left, right]) = (self.bounds, others.bounds);
        (0..2).all(|n| left[n] <= low[n] && high[n] <= right[n]) && self.bounds != others.bounds
    }
}

/// The edges of a ring, the last back to the first point.
fn edges(ring: &[[f64; 2]]) -> impl Iterator<Item = ([f64; 2], [f64; 2])> {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1))
}

fn to_edge([x, y]: [f64; 2], from: [f64; 2], to: [f64; 2]) -> f64 {
    let (along, up) = (to[0] - from[0], to[1] - from[1]);
    let length = along * along + up * up;
    let share =
        if length > 0.0 { (((x - from[0]) * along + (y - from[1]) * up) / length).clamp(0.0, 1.0) } else { 0.0 };
    (x - from[0] - share * along).hypot(y - from[1] - share * up)
}
