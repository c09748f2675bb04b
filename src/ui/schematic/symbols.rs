//! The shapes of the symbols, around their centre, in points at the scale of the drawing: in the manner of ISO 14617
//! (and of ISO 1219 for what conditions a flow). Pure; how thick and in which colour is `paint`'s.
//!
//! A valve is two triangles tip to tip, in outline when open and filled when shut; a three-way valve is three, of
//! which the leg that is shut is filled. What the deck ties to it decides how a symbol lies.

use eframe::egui::{Pos2, Rect, Vec2, pos2, vec2};

use crate::domain::piping::NodeKind;
use crate::ui::schematic::routes::{Dir, Leg};

/// With what a closed shape is filled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fill {
    /// With the sheet's colour: it hides what runs under it.
    Sheet,
    /// With ink: shut.
    Ink,
    /// With the colour of what is in it.
    Medium,
}

/// A piece of a symbol.
#[derive(Debug, Clone, PartialEq)]
pub enum Part {
    /// A line in ink.
    Line(Vec<Pos2>),
    /// A heavy line in ink: the ship's side, a stop.
    Heavy(Vec<Pos2>),
    /// A dashed line in ink.
    Dashed([Pos2; 2]),
    /// A line in the colour of what is in it: the level in a tank, the sea.
    Wet(Vec<Pos2>),
    /// A closed shape with its outline in ink.
    Shape(Vec<Pos2>, Fill),
    /// A circle.
    Circle(Pos2, f32, Fill),
}

/// How a symbol lies and stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Look<'a> {
    /// Where pipes leave it.
    pub legs: &'a [Leg],
    /// Body of the symbol around its centre.
    pub body: Rect,
    /// Whether the symbol passes flow (a valve: it is open).
    pub open: bool,
    /// For a three-way valve: the sides of its two ways, and which of them is joined.
    pub ways: Option<([Option<Dir>; 2], Option<usize>)>,
}

/// Half of a valve along its pipe.
pub(super) const VALVE: f32 = 12.0;
/// Half of a valve across its pipe.
const ACROSS: f32 = 8.0;
const PUMP: f32 = 20.0;
const FILTER: f32 = 16.0;
const EXCHANGER: f32 = 18.0;
const SEA: Vec2 = vec2(20.0, 14.0);
const DOT: f32 = 3.5;
/// From the level in a tank to its bottom.
const LEVEL: f32 = 38.0;
/// From a valve's centre to the head of its spindle.
const SPINDLE: f32 = 20.0;
/// Spindle of a quick-closing valve, and from there to the end of its spring.
const STEM: f32 = 26.0;
const SPRING: f32 = 18.0;

/// How a symbol lies: along which way, or round a corner.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Lie {
    /// Straight along a direction: for what passes one way, that of the flow.
    Along(Dir),
    /// With its two sides at a right angle.
    Corner(Dir, Dir),
}

/// How a symbol lies with these legs: with the flow where it has one.
pub(super) fn lie(legs: &[Leg]) -> Lie {
    let first = |out: bool| legs.iter().find(|leg| leg.out == out).map(|leg| leg.dir);
    match (first(false), first(true)) {
        (None, None) => Lie::Along(Dir::Right),
        (Some(into), None) => other(legs, into).unwrap_or(Lie::Along(into.back())),
        (None, Some(out)) => other(legs, out).unwrap_or(Lie::Along(out)),
        (Some(into), Some(out)) if into == out || into.back() == out => Lie::Along(out),
        (Some(into), Some(out)) => match straight(legs) {
            Some(dir) => Lie::Along(dir),
            None => Lie::Corner(into, out),
        },
    }
}

/// With pipes that all arrive, or all leave: by their two sides.
fn other(legs: &[Leg], one: Dir) -> Option<Lie> {
    let two = legs.iter().map(|leg| leg.dir).find(|dir| *dir != one)?;
    Some(match straight(legs) {
        Some(dir) => Lie::Along(dir),
        None => Lie::Corner(one, two),
    })
}

/// The direction of two legs that face one another, with the flow where one of them names it.
fn straight(legs: &[Leg]) -> Option<Dir> {
    let has = |dir: Dir| legs.iter().any(|leg| leg.dir == dir);
    let out = legs.iter().find(|leg| leg.out && has(leg.dir.back())).map(|leg| leg.dir);
    let any = legs.iter().find(|leg| has(leg.dir.back())).map(|leg| leg.dir.back());
    out.or(any)
}

/// The side of a valve's spindle: over it, or beside it where a pipe leaves there.
pub(super) fn spindle_side(legs: &[Leg]) -> Dir {
    let has = |dir: Dir| legs.iter().any(|leg| leg.dir == dir);
    let level = !(has(Dir::Up) || has(Dir::Down));
    let order = if level { [Dir::Up, Dir::Down] } else { [Dir::Left, Dir::Right] };
    order.into_iter().find(|dir| !has(*dir)).unwrap_or(order[0])
}

/// Half the width and height of a symbol's body with these legs; `inside` is the size of the name in it.
pub(super) fn half(kind: NodeKind, legs: &[Leg], inside: Vec2) -> Vec2 {
    let (level, corner) = match lie(legs) {
        Lie::Along(dir) => (dir.is_level(), false),
        Lie::Corner(..) => (true, true),
    };
    let turned = |along: f32, across: f32| if level { vec2(along, across) } else { vec2(across, along) };
    match kind {
        NodeKind::Valve | NodeKind::QuickClosing | NodeKind::NonReturn | NodeKind::ScrewDownNonReturn => {
            if corner {
                Vec2::splat(VALVE)
            } else {
                turned(VALVE, ACROSS)
            }
        }
        NodeKind::ThreeWay => Vec2::splat(VALVE),
        NodeKind::Pump | NodeKind::Compressor => Vec2::splat(PUMP),
        NodeKind::Filter => Vec2::splat(FILTER),
        NodeKind::Cooler | NodeKind::Heater => Vec2::splat(EXCHANGER),
        NodeKind::SeaChest | NodeKind::Overboard if inward_of_end(legs).is_level() => SEA,
        NodeKind::SeaChest | NodeKind::Overboard => vec2(SEA.y, SEA.x),
        NodeKind::Junction if legs.len() > 1 => Vec2::splat(DOT),
        NodeKind::Junction => turned(ACROSS, ACROSS - 2.0),
        NodeKind::Tank => vec2((inside.x / 2.0 + 16.0).max(56.0), (inside.y + 14.0 + LEVEL) / 2.0),
        NodeKind::Receiver => vec2((inside.x / 2.0 + 24.0).max(56.0), (inside.y / 2.0 + 8.0).max(20.0)),
        NodeKind::Engine => vec2((inside.x / 2.0 + 16.0).max(64.0), inside.y / 2.0 + 28.0),
    }
}

/// The room that a spindle takes beside the body, around the centre.
pub(super) fn spindle(kind: NodeKind, legs: &[Leg]) -> Option<Rect> {
    let reach = match kind {
        NodeKind::QuickClosing => STEM + SPRING,
        NodeKind::ScrewDownNonReturn => SPINDLE,
        _ => return None,
    };
    let way = spindle_side(legs).step();
    let across = vec2(way.y.abs(), way.x.abs()) * ACROSS;
    Some(Rect::from_two_pos((way * ACROSS - across).to_pos2(), (way * reach + across).to_pos2()))
}

/// A point so far along a direction and so far to the right of it.
fn at(dir: Dir, along: f32, aside: f32) -> Pos2 {
    let way = dir.step();
    (way * along + vec2(-way.y, way.x) * aside).to_pos2()
}

/// One half of a valve: its tip at the centre.
fn half_valve(dir: Dir, fill: Fill) -> Part {
    Part::Shape(vec![pos2(0.0, 0.0), at(dir, VALVE, -ACROSS), at(dir, VALVE, ACROSS)], fill)
}

fn filled(open: bool) -> Fill {
    if open { Fill::Sheet } else { Fill::Ink }
}

/// The pieces of a symbol, from the hindmost to the foremost.
pub fn symbol(kind: NodeKind, look: &Look<'_>) -> Vec<Part> {
    let lies = lie(look.legs);
    let (inward, outward) = match lies {
        Lie::Along(dir) => (dir.back(), dir),
        Lie::Corner(a, b) => (a, b),
    };
    match kind {
        NodeKind::Valve => valve(inward, outward, look.open).to_vec(),
        NodeKind::QuickClosing => {
            let mut parts = spring(spindle_side(look.legs));
            parts.extend(valve(inward, outward, look.open));
            parts
        }
        NodeKind::NonReturn => non_return(inward, outward, true),
        NodeKind::ScrewDownNonReturn => {
            let side = spindle_side(look.legs);
            let mut parts = vec![
                Part::Line(vec![pos2(0.0, 0.0), at(side, SPINDLE, 0.0)]),
                Part::Line(vec![at(side, SPINDLE, -ACROSS), at(side, SPINDLE, ACROSS)]),
            ];
            parts.extend(non_return(inward, outward, look.open));
            parts
        }
        NodeKind::ThreeWay => three_way(look),
        NodeKind::Pump => {
            let triangle = vec![at(outward, PUMP, 0.0), at(outward, -10.0, -17.3), at(outward, -10.0, 17.3)];
            vec![Part::Circle(pos2(0.0, 0.0), PUMP, Fill::Sheet), Part::Shape(triangle, Fill::Sheet)]
        }
        NodeKind::Compressor => {
            let side = |s: f32| Part::Line(vec![at(outward, -12.0, s * 16.0), at(outward, 17.3, s * 10.0)]);
            vec![Part::Circle(pos2(0.0, 0.0), PUMP, Fill::Sheet), side(1.0), side(-1.0)]
        }
        NodeKind::Filter => {
            vec![diamond(FILTER), Part::Dashed([at(outward, 0.0, 1.0 - FILTER), at(outward, 0.0, FILTER - 1.0)])]
        }
        NodeKind::Cooler => exchanger(outward, true),
        NodeKind::Heater => exchanger(outward, false),
        NodeKind::Junction => junction(look),
        NodeKind::SeaChest => sea_chest(inward_of_end(look.legs)),
        NodeKind::Overboard => overboard(inward_of_end(look.legs)),
        NodeKind::Tank => tank(look.body),
        NodeKind::Receiver => receiver(look.body),
        NodeKind::Engine => engine(look.body),
    }
}

fn valve(one: Dir, other: Dir, open: bool) -> [Part; 2] {
    [half_valve(one, filled(open)), half_valve(other, filled(open))]
}

/// The spindle of a quick-closing valve with the spring that shuts it when the wire is pulled.
fn spring(side: Dir) -> Vec<Part> {
    let mut coil = vec![at(side, STEM, 0.0)];
    for (n, aside) in [-6.0, 6.0, -6.0, 6.0].into_iter().enumerate() {
        coil.push(at(side, STEM + 2.0 + 4.5 * n as f32, aside));
    }
    coil.push(at(side, STEM + SPRING, 0.0));
    vec![
        Part::Line(vec![pos2(0.0, 0.0), at(side, STEM, 0.0)]),
        Part::Line(vec![at(side, STEM, -ACROSS), at(side, STEM, ACROSS)]),
        Part::Line(coil),
    ]
}

/// A triangle that points with the flow, against a stop.
fn non_return(inward: Dir, outward: Dir, open: bool) -> Vec<Part> {
    let (base, tip) = if inward.back() == outward {
        ([at(outward, -VALVE, -ACROSS), at(outward, -VALVE, ACROSS)], at(outward, VALVE - 3.0, 0.0))
    } else {
        // Round a corner the flap lies at the outlet.
        ([at(inward, VALVE, -ACROSS), at(inward, VALVE, ACROSS)], pos2(0.0, 0.0))
    };
    let mut parts = Vec::new();
    if inward.back() != outward {
        parts.push(half_valve(outward, filled(open)));
    }
    parts.push(Part::Shape(vec![base[0], base[1], tip], filled(open)));
    let stop = if inward.back() == outward { (outward, VALVE - 1.5) } else { (outward, VALVE) };
    parts.push(Part::Heavy(vec![at(stop.0, stop.1, -ACROSS), at(stop.0, stop.1, ACROSS)]));
    parts
}

fn three_way(look: &Look<'_>) -> Vec<Part> {
    let (sides, joined) = look.ways.unwrap_or(([None, None], None));
    let mut dirs: Vec<Dir> = Vec::new();
    for leg in look.legs {
        if !dirs.contains(&leg.dir) {
            dirs.push(leg.dir);
        }
    }
    let shut = |dir: Dir| {
        let way = sides.iter().position(|side| *side == Some(dir));
        way.is_some_and(|way| joined != Some(way))
    };
    dirs.into_iter().map(|dir| half_valve(dir, filled(!shut(dir)))).collect()
}

fn diamond(half: f32) -> Part {
    Part::Shape(vec![pos2(-half, 0.0), pos2(0.0, -half), pos2(half, 0.0), pos2(0.0, half)], Fill::Sheet)
}

/// A diamond with arrow heads across the flow: outwards takes heat away, inwards brings it.
fn exchanger(along: Dir, takes: bool) -> Vec<Part> {
    let mut parts = vec![diamond(EXCHANGER)];
    let side = if along.is_level() { Dir::Up } else { Dir::Right };
    for dir in [side, side.back()] {
        let (tip, foot) = if takes { (EXCHANGER - 3.0, EXCHANGER - 10.0) } else { (EXCHANGER - 13.0, EXCHANGER - 6.0) };
        parts.push(Part::Line(vec![pos2(0.0, 0.0), at(dir, EXCHANGER, 0.0)]));
        parts.push(Part::Shape(vec![at(dir, tip, 0.0), at(dir, foot, -4.0), at(dir, foot, 4.0)], Fill::Ink));
    }
    parts
}

fn junction(look: &Look<'_>) -> Vec<Part> {
    match look.legs {
        // The drawing ends here: an arrow that goes on, or comes in.
        [leg] => {
            let dir = if leg.out { leg.dir } else { leg.dir.back() };
            vec![Part::Shape(vec![at(dir, 8.0, 0.0), at(dir, -8.0, -6.0), at(dir, -8.0, 6.0)], Fill::Medium)]
        }
        // The dot also closes the gap between two pipes.
        legs if legs.len() > 1 => vec![Part::Circle(pos2(0.0, 0.0), DOT, Fill::Medium)],
        _ => Vec::new(),
    }
}

/// The side at which the pipe of an end leaves it.
fn inward_of_end(legs: &[Leg]) -> Dir {
    legs.first().map_or(Dir::Right, |leg| leg.dir)
}

/// A box at the ship's side, the grating outside, the sea in it.
fn sea_chest(inboard: Dir) -> Vec<Part> {
    let (x, y) = (SEA.x, SEA.y);
    let mut parts = vec![Part::Shape(
        vec![at(inboard, x, -y), at(inboard, x, y), at(inboard, -x, y), at(inboard, -x, -y)],
        Fill::Sheet,
    )];
    for n in [-1.0, 0.0, 1.0] {
        let middle = n * y * 0.72;
        parts.push(Part::Heavy(vec![at(inboard, -x, middle - 3.0), at(inboard, -x, middle + 3.0)]));
    }
    for row in [-4.0, 4.0] {
        parts.push(Part::Wet(wave(row)));
    }
    parts
}

/// A level line in waves, so far below the centre.
fn wave(below: f32) -> Vec<Pos2> {
    (0..=16)
        .map(|n| n as f32)
        .map(|n| pos2(n * 1.5 - 12.0, below + (n * std::f32::consts::FRAC_PI_4).sin() * 2.0))
        .collect()
}

/// A pipe through the ship's side, with an arrow out.
fn overboard(inboard: Dir) -> Vec<Part> {
    let out = inboard.back();
    vec![
        Part::Line(vec![at(out, -SEA.x, 0.0), at(out, 8.0, 0.0)]),
        Part::Heavy(vec![at(out, -2.0, -SEA.y), at(out, -2.0, SEA.y)]),
        Part::Shape(vec![at(out, SEA.x, 0.0), at(out, 6.0, -6.0), at(out, 6.0, 6.0)], Fill::Medium),
    ]
}

fn corners(body: Rect) -> Vec<Pos2> {
    vec![body.left_top(), body.right_top(), body.right_bottom(), body.left_bottom()]
}

/// A box with its level and what is under it.
fn tank(body: Rect) -> Vec<Part> {
    let level = body.bottom() - LEVEL;
    let mut parts = vec![
        Part::Shape(corners(body), Fill::Sheet),
        Part::Line(vec![pos2(body.left(), level), pos2(body.right(), level)]),
    ];
    for (n, inset) in [0.12, 0.2, 0.28].into_iter().enumerate() {
        let (y, inset) = (level + 9.0 + 8.0 * n as f32, inset * body.width());
        parts.push(Part::Wet(vec![pos2(body.left() + inset, y), pos2(body.right() - inset, y)]));
    }
    parts
}

/// A vessel with domed ends.
fn receiver(body: Rect) -> Vec<Part> {
    let (x, y) = (body.width() / 2.0, body.height() / 2.0);
    let dome = y.min(16.0);
    let mut outline = Vec::new();
    for side in [1.0_f32, -1.0] {
        for n in -8..=8 {
            let angle = side * n as f32 / 8.0 * std::f32::consts::FRAC_PI_2;
            outline.push(body.center() + vec2(side * (x - dome + dome * angle.cos()), y * angle.sin()));
        }
    }
    vec![Part::Shape(outline, Fill::Sheet)]
}

/// A box with its cylinders over the name.
fn engine(body: Rect) -> Vec<Part> {
    const CYLINDERS: usize = 6;
    const SIZE: Vec2 = vec2(14.0, 20.0);
    let mut parts = vec![Part::Shape(corners(body), Fill::Sheet)];
    let pitch = ((body.width() - 24.0) / CYLINDERS as f32).min(20.0);
    for n in 0..CYLINDERS {
        let middle = body.center().x + (n as f32 - (CYLINDERS as f32 - 1.0) / 2.0) * pitch;
        let cylinder = Rect::from_center_size(
            pos2(middle, body.top() + 12.0 + SIZE.y / 2.0),
            vec2(SIZE.x.min(pitch - 3.0), SIZE.y),
        );
        parts.push(Part::Shape(corners(cylinder), Fill::Sheet));
        let crown = cylinder.top() + if n % 2 == 0 { 12.0 } else { 7.0 };
        parts.push(Part::Line(vec![pos2(cylinder.left(), crown), pos2(cylinder.right(), crown)]));
    }
    parts
}

/// The middle of the name inside of a tank, a receiver or an engine.
pub(super) fn name_place(kind: NodeKind, body: Rect) -> Pos2 {
    match kind {
        NodeKind::Tank => pos2(body.center().x, (body.top() + body.bottom() - LEVEL) / 2.0),
        NodeKind::Engine => pos2(body.center().x, (body.top() + 32.0 + body.bottom()) / 2.0),
        _ => body.center(),
    }
}
