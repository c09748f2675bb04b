//! The ways of the pipes: orthogonal, with corners where the deck says or where they do least harm, and bridges where
//! two cross that are not joined. On the grid first (columns and rows by their number), then in points.

use eframe::egui::{Pos2, Rect, Vec2, pos2, vec2};

use crate::domain::piping::NodeKind;
use crate::ui::schematic::model::Model;

/// A direction on the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Dir {
    /// To the left.
    Left,
    /// To the right.
    Right,
    /// Upwards.
    Up,
    /// Downwards.
    Down,
}

impl Dir {
    /// A step of one that way.
    pub fn step(self) -> Vec2 {
        match self {
            Dir::Left => vec2(-1.0, 0.0),
            Dir::Right => vec2(1.0, 0.0),
            Dir::Up => vec2(0.0, -1.0),
            Dir::Down => vec2(0.0, 1.0),
        }
    }

    /// The other way.
    pub fn back(self) -> Dir {
        match self {
            Dir::Left => Dir::Right,
            Dir::Right => Dir::Left,
            Dir::Up => Dir::Down,
            Dir::Down => Dir::Up,
        }
    }

    /// To the left or to the right.
    pub fn is_level(self) -> bool {
        matches!(self, Dir::Left | Dir::Right)
    }

    fn between(from: [usize; 2], to: [usize; 2]) -> Option<Dir> {
        match (to[0].cmp(&from[0]), to[1].cmp(&from[1])) {
            (std::cmp::Ordering::Greater, std::cmp::Ordering::Equal) => Some(Dir::Right),
            (std::cmp::Ordering::Less, std::cmp::Ordering::Equal) => Some(Dir::Left),
            (std::cmp::Ordering::Equal, std::cmp::Ordering::Greater) => Some(Dir::Down),
            (std::cmp::Ordering::Equal, std::cmp::Ordering::Less) => Some(Dir::Up),
            _ => None,
        }
    }
}

/// Where a pipe leaves a symbol.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Leg {
    /// To which side.
    pub dir: Dir,
    /// Which pipe.
    pub pipe: usize,
    /// The pipe names the node as its `from`.
    pub out: bool,
}

/// A pipe in points.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Route {
    /// From the edge of its first symbol to the edge of its last, corner by corner.
    pub points: Vec<Pos2>,
    /// Where it goes over another pipe: the part between two corners (from 0), and the place.
    pub bridges: Vec<(usize, Pos2)>,
}

impl Route {
    /// Straight parts of the route.
    pub fn parts(&self) -> impl Iterator<Item = (Pos2, Pos2)> + '_ {
        self.points.windows(2).map(|w| (w[0], w[1]))
    }
}

/// The grid with everything on it; columns and rows are meant by their number from 0.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Grid {
    /// The columns in use, as the deck counts them.
    pub cols: Vec<i32>,
    /// The rows in use.
    pub rows: Vec<i32>,
    /// Column and row of each node.
    pub nodes: Vec<[usize; 2]>,
    /// Each pipe from the place of its first node to that of its last, by its corners.
    pub routes: Vec<Vec<[usize; 2]>>,
}

impl Grid {
    /// Of a model: every pipe gets its corners.
    pub fn of(model: &Model) -> Self {
        let used = |axis: usize| {
            let nodes = model.symbols.iter().map(move |s| s.place[axis]);
            let corners = model.lines.iter().flat_map(move |l| l.via.iter().map(move |v| v[axis]));
            let mut all: Vec<i32> = nodes.chain(corners).collect();
            all.sort_unstable();
            all.dedup();
            all
        };
        let (cols, rows) = (used(0), used(1));
        let place = |at: [i32; 2]| [cols.partition_point(|c| *c < at[0]), rows.partition_point(|r| *r < at[1])];
        let nodes: Vec<[usize; 2]> = model.symbols.iter().map(|s| place(s.place)).collect();
        let stops = model.lines.iter().map(|line| {
            let corners = line.via.iter().map(|v| place(*v));
            [nodes[line.from]].into_iter().chain(corners).chain([nodes[line.to]]).collect()
        });
        let routes = choose(model, &nodes, stops.collect());
        Self { cols, rows, nodes, routes }
    }

    /// Where pipes leave a node, in the order of the pipes.
    pub fn legs(&self, model: &Model, node: usize) -> Vec<Leg> {
        let mut legs = Vec::new();
        for (pipe, line) in model.lines.iter().enumerate() {
            let route = &self.routes[pipe];
            if line.from == node
                && let Some(dir) = first_dir(route)
            {
                legs.push(Leg { dir, pipe, out: true });
            }
            if line.to == node
                && let Some(dir) = last_dir(route)
            {
                legs.push(Leg { dir, pipe, out: false });
            }
        }
        legs
    }
}

/// The way a route leaves its first node.
fn first_dir(route: &[[usize; 2]]) -> Option<Dir> {
    Dir::between(*route.first()?, *route.get(1)?)
}

/// The side of its last node at which a route arrives.
fn last_dir(route: &[[usize; 2]]) -> Option<Dir> {
    Dir::between(*route.last()?, *route.get(route.len().checked_sub(2)?)?)
}

/// The corners of a pipe over its stops: where two of them stand in neither one row nor one column, `level` says for
/// each of these whether it leaves the first one level.
fn cornered(stops: &[[usize; 2]], level: &[bool]) -> Vec<[usize; 2]> {
    let mut out: Vec<[usize; 2]> = Vec::new();
    let mut choices = level.iter();
    for stop in stops {
        if let Some(last) = out.last().copied()
            && last[0] != stop[0]
            && last[1] != stop[1]
        {
            let level = choices.next().copied().unwrap_or(true);
            out.push(if level { [stop[0], last[1]] } else { [last[0], stop[1]] });
        }
        out.push(*stop);
    }
    out.dedup();
    // A stop on a straight way is no corner.
    let mut at = 1;
    while at + 1 < out.len() {
        let (a, b) = (Dir::between(out[at - 1], out[at]), Dir::between(out[at], out[at + 1]));
        if a == b {
            out.remove(at);
        } else {
            at += 1;
        }
    }
    out
}

/// Chooses the corners that the deck leaves open, each so that the pipe does least harm where it then runs.
fn choose(model: &Model, nodes: &[[usize; 2]], stops: Vec<Vec<[usize; 2]>>) -> Vec<Vec<[usize; 2]>> {
    let open: Vec<usize> =
        stops.iter().map(|s| s.windows(2).filter(|w| w[0][0] != w[1][0] && w[0][1] != w[1][1]).count()).collect();
    let mut level: Vec<Vec<bool>> = open.iter().map(|n| vec![true; *n]).collect();
    let mut routes: Vec<Vec<[usize; 2]>> = stops.iter().zip(&level).map(|(s, l)| cornered(s, l)).collect();
    // Each choice bears on the others: they settle within a few rounds, or are left as they are.
    for _ in 0..4 {
        let mut changed = false;
        for pipe in 0..stops.len() {
            for corner in 0..level[pipe].len() {
                let now = harm(model, nodes, &routes, pipe);
                level[pipe][corner] = !level[pipe][corner];
                let before = std::mem::replace(&mut routes[pipe], cornered(&stops[pipe], &level[pipe]));
                if harm(model, nodes, &routes, pipe) < now {
                    changed = true;
                } else {
                    level[pipe][corner] = !level[pipe][corner];
                    routes[pipe] = before;
                }
            }
        }
        if !changed {
            break;
        }
    }
    routes
}

/// What a pipe's way spoils: symbols and pipes that it runs over, crossings, sides of symbols that it should not use.
fn harm(model: &Model, nodes: &[[usize; 2]], routes: &[Vec<[usize; 2]>], pipe: usize) -> u32 {
    let (line, route) = (&model.lines[pipe], &routes[pipe]);
    let mut harm = 0;
    for leg in route.windows(2) {
        let over = nodes.iter().enumerate().filter(|(n, at)| *n != line.from && *n != line.to && on(**at, leg));
        harm += 100 * over.count() as u32;
    }
    for (other, theirs) in routes.iter().enumerate().filter(|(other, _)| *other != pipe) {
        let far = &model.lines[other];
        let shared = [far.from, far.to].iter().any(|n| *n == line.from || *n == line.to);
        for (a, b) in route.windows(2).flat_map(|a| theirs.windows(2).map(move |b| (a, b))) {
            if along(a, b) {
                harm += if shared { 6 } else { 40 };
            } else if across(a, b) {
                harm += 3;
            }
        }
    }
    harm + side(model, routes, pipe, line.from, first_dir(route)) + side(model, routes, pipe, line.to, last_dir(route))
}

/// How badly a side of a symbol is chosen: one that another pipe uses, or one that bends a straight symbol.
fn side(model: &Model, routes: &[Vec<[usize; 2]>], pipe: usize, node: usize, dir: Option<Dir>) -> u32 {
    let Some(dir) = dir else { return 0 };
    let kind = model.symbols[node].kind;
    if kind == NodeKind::Junction {
        return 0;
    }
    let mut used = Vec::new();
    for (other, line) in model.lines.iter().enumerate().filter(|(other, _)| *other != pipe) {
        used.extend((line.from == node).then(|| first_dir(&routes[other])).flatten());
        used.extend((line.to == node).then(|| last_dir(&routes[other])).flatten());
    }
    let taken = used.contains(&dir);
    match kind {
        _ if kind.is_end() || kind == NodeKind::Engine => u32::from(taken) * 4,
        _ if taken => 30,
        _ if used.len() == 1 && used[0] != dir.back() => 12,
        _ => 0,
    }
}

fn span(leg: &[[usize; 2]], axis: usize) -> (usize, usize) {
    (leg[0][axis].min(leg[1][axis]), leg[0][axis].max(leg[1][axis]))
}

fn is_level(leg: &[[usize; 2]]) -> bool {
    leg[0][1] == leg[1][1]
}

fn on(at: [usize; 2], leg: &[[usize; 2]]) -> bool {
    let ((x0, x1), (y0, y1)) = (span(leg, 0), span(leg, 1));
    (x0..=x1).contains(&at[0]) && (y0..=y1).contains(&at[1])
}

/// Two legs lie over one another for a part of their length.
fn along(a: &[[usize; 2]], b: &[[usize; 2]]) -> bool {
    let (axis, across) = if is_level(a) { (0, 1) } else { (1, 0) };
    let ((a0, a1), (b0, b1)) = (span(a, axis), span(b, axis));
    is_level(a) == is_level(b) && a[0][across] == b[0][across] && a0.max(b0) < a1.min(b1)
}

/// Two legs cross inside of both.
fn across(a: &[[usize; 2]], b: &[[usize; 2]]) -> bool {
    let (level, upright) = match (is_level(a), is_level(b)) {
        (true, false) => (a, b),
        (false, true) => (b, a),
        _ => return false,
    };
    let ((x0, x1), (y0, y1)) = (span(level, 0), span(upright, 1));
    (x0 + 1..x1).contains(&upright[0][0]) && (y0 + 1..y1).contains(&level[0][1])
}

/// A route in points, from the edge of the first body to that of the last.
pub(super) fn in_points(route: &[[usize; 2]], xs: &[f32], ys: &[f32], first: Rect, last: Rect) -> Vec<Pos2> {
    let mut points: Vec<Pos2> = route.iter().map(|at| pos2(xs[at[0]], ys[at[1]])).collect();
    if points.len() < 2 {
        return Vec::new();
    }
    let end = points.len() - 1;
    points[0] = edge(first, points[0], points[1]);
    points[end] = edge(last, points[end], points[end - 1]);
    points
}

/// Where the way from a body's centre towards a point leaves the body.
fn edge(body: Rect, center: Pos2, towards: Pos2) -> Pos2 {
    let way = towards - center;
    if way.x.abs() > way.y.abs() {
        let x = if way.x > 0.0 { body.right().min(towards.x) } else { body.left().max(towards.x) };
        pos2(x, center.y)
    } else {
        let y = if way.y > 0.0 { body.bottom().min(towards.y) } else { body.top().max(towards.y) };
        pos2(center.x, y)
    }
}

/// Half the width of a bridge; a crossing nearer than that to an end or a corner of the level pipe has none.
pub(super) const BRIDGE: f32 = 8.0;

/// Puts a bridge into the level pipe wherever two pipes cross.
pub(super) fn bridge(routes: &mut [Route]) {
    for over in 0..routes.len() {
        let mut bridges: Vec<(usize, Pos2)> = Vec::new();
        for (part, (a, b)) in routes[over].parts().enumerate().filter(|(_, (a, b))| a.y == b.y) {
            let (left, right) = (a.x.min(b.x) + BRIDGE, a.x.max(b.x) - BRIDGE);
            for (_, route) in routes.iter().enumerate().filter(|(under, _)| *under != over) {
                let uprights = route.parts().filter(|(c, d)| c.x == d.x && (left..=right).contains(&c.x));
                let crossed = uprights.filter(|(c, d)| a.y > c.y.min(d.y) + 1.0 && a.y < c.y.max(d.y) - 1.0);
                for place in crossed.map(|(c, _)| pos2(c.x, a.y)) {
                    // Two pipes in one another's way are crossed by one bridge.
                    if bridges.iter().all(|(_, at)| (*at - place).length() >= 2.0 * BRIDGE) {
                        bridges.push((part, place));
                    }
                }
            }
        }
        bridges.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.x.total_cmp(&b.1.x)));
        routes[over].bridges = bridges;
    }
}
