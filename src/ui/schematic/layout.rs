//! From what is drawn to where: the columns and rows of the deck's grid are moved apart until symbols, pipes and words
//! keep clear of one another, and then to fill the place there is. Pure: given the width of words, only numbers.

use eframe::egui::{Pos2, Rect, Vec2, pos2, vec2};

use crate::ui::schematic::labels::{Choice, Label, Price, Thing, Wish, apart, choices, overlap};
use crate::ui::schematic::media::{MediumLabel, name_media};
use crate::ui::schematic::model::{Model, Text, broken, named_inside};
use crate::ui::schematic::routes::{Dir, Grid, Leg, Route, bridge, in_points};
use crate::ui::schematic::symbols;

/// Where everything is, at the drawing's own scale.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Layout {
    /// How large it is.
    pub size: Vec2,
    /// One for each symbol.
    pub symbols: Vec<Placed>,
    /// One for each pipe.
    pub routes: Vec<Route>,
    /// The media's names on their pipes.
    pub media: Vec<MediumLabel>,
    /// How many words could not be kept clear of everything else.
    pub crowded: usize,
}

/// A symbol at its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed {
    /// Centre of the symbol.
    pub center: Pos2,
    /// Body of the symbol.
    pub body: Rect,
    /// What other things keep clear of: for what can be turned, the box of the focus.
    pub reach: Rect,
    /// Spindle of a valve, beside the body.
    pub spindle: Option<Rect>,
    /// Where pipes leave it.
    pub legs: Vec<Leg>,
    /// For a three-way valve, the sides of its two ways.
    pub ways: Option<[Option<Dir>; 2]>,
    /// The name inside of it, line by line.
    pub inside: Vec<String>,
    /// The name beside it.
    pub label: Option<Label>,
}

/// Half of the box of the focus, along and across the pipe.
const FOCUS: Vec2 = vec2(22.0, 18.0);
/// Around everything.
const MARGIN: f32 = 6.0;
/// The least distance of two columns or rows.
const LEAST: f32 = 30.0;
/// Room for each further column or row of the grid between them that is not used.
const EMPTY: f32 = 8.0;
/// Between two symbols.
const APART: f32 = 12.0;
/// Between a pipe and a symbol that is not its own, and half of a flooded pipe.
const CLEAR: f32 = 5.0;
/// Between a symbol and the words of another.
const NEAR: f32 = 2.5;
/// Between the words of two symbols.
const BETWEEN: Vec2 = vec2(7.0, 4.0);
/// The names inside of boxes are broken at this width.
const INSIDE: f32 = 132.0;
/// So far apart columns and rows are moved to fill the place.
const WIDEST: Vec2 = vec2(168.0, 112.0);
/// A point of growth costs so much where there is just room for it.
const DEAR: f32 = 0.4;
/// So often at most the grid is moved apart.
const ROUNDS: usize = 60;

/// Lays a model out for a place of this size. `width` is how wide a line of text is.
pub fn lay(model: &Model, place: Vec2, width: &dyn Fn(&str, Text) -> f32) -> Layout {
    if model.symbols.is_empty() {
        return Layout::default();
    }
    let grid = Grid::of(model);
    let pieces: Vec<Piece> = (0..model.symbols.len()).map(|n| piece(model, &grid, n, width)).collect();
    let mut work = Work::new(model, &grid, &pieces);
    let mut names = Names::default();
    let mut media = Vec::new();
    for _ in 0..ROUNDS {
        let wishes = work.round(place, &mut names);
        if !wishes.is_empty() {
            work.grow(&wishes);
            continue;
        }
        let (named, wish) = name_media(model, &work.routes(), &work.obstacles(&names), width);
        media = named;
        match wish {
            Some((pipe, more)) if work.lengthen(pipe, more) => {}
            _ => break,
        }
    }
    // What is too high for its place is seen smaller, and then has room at its sides, and the other way about.
    let size = work.extent().size() + Vec2::splat(2.0 * MARGIN) + vec2(LABELS, LABELS / 2.0);
    let seen = (place.x / size.x).min(place.y / size.y).clamp(0.05, 1.0);
    work.fill(place / seen);
    // With more room a better place may be free; where one is then taken twice, all keep what they had.
    let kept = names.clone();
    if !work.round(place, &mut names).is_empty() || names.crowded > kept.crowded {
        names = kept;
    }
    let (named, _) = name_media(model, &work.routes(), &work.obstacles(&names), width);
    if named.len() >= media.len() {
        media = named;
    }
    work.done(names, media)
}

/// A symbol with its legs and its words, before it has a place.
struct Piece {
    legs: Vec<Leg>,
    body: Rect,
    reach: Rect,
    spindle: Option<Rect>,
    inside: Vec<String>,
    ways: Option<[Option<Dir>; 2]>,
    choices: Vec<Choice>,
}

fn piece(model: &Model, grid: &Grid, node: usize, width: &dyn Fn(&str, Text) -> f32) -> Piece {
    let symbol = &model.symbols[node];
    let legs = grid.legs(model, node);
    let name = |text: &str| width(text, Text::Inside);
    let inside = if named_inside(symbol.kind) {
        let rows = (name(&symbol.name) / INSIDE).ceil().clamp(1.0, 3.0) as usize;
        broken(&symbol.name, rows, &name)
    } else {
        Vec::new()
    };
    let wide = inside.iter().map(|l| name(l)).fold(0.0, f32::max);
    let half = symbols::half(symbol.kind, &legs, vec2(wide, inside.len() as f32 * Text::Inside.line()));
    let body = Rect::from_center_size(Pos2::ZERO, 2.0 * half);
    let level = half.x >= half.y;
    let focus = if level { FOCUS } else { vec2(FOCUS.y, FOCUS.x) };
    let reach = if symbol.turnable { body.union(Rect::from_center_size(Pos2::ZERO, 2.0 * focus)) } else { body };
    let spindle = symbols::spindle(symbol.kind, &legs);
    let ways = symbol.ways.map(|ways| {
        ways.map(|way| {
            let to_way = |leg: &&Leg| {
                let line = &model.lines[leg.pipe];
                if leg.out { line.to == way } else { line.from == way }
            };
            legs.iter().find(to_way).map(|leg| leg.dir)
        })
    });
    let choices = choices(symbol, reach, width);
    Piece { legs, body, reach, spindle, inside, ways, choices }
}

/// The labels as chosen: for each symbol which of its choices.
#[derive(Clone, Default)]
struct Names {
    chosen: Vec<Option<usize>>,
    crowded: usize,
}

struct Work<'a> {
    model: &'a Model,
    grid: &'a Grid,
    pieces: &'a [Piece],
    /// Between two columns, and two rows.
    gaps: [Vec<f32>; 2],
    xs: Vec<f32>,
    ys: Vec<f32>,
}

impl<'a> Work<'a> {
    fn new(model: &'a Model, grid: &'a Grid, pieces: &'a [Piece]) -> Self {
        let gaps = |used: &[i32]| {
            used.windows(2).map(|w| LEAST + EMPTY * ((w[1] - w[0] - 1).clamp(0, 4)) as f32).collect::<Vec<_>>()
        };
        let mut work = Self { model, grid, pieces, gaps: [gaps(&grid.cols), gaps(&grid.rows)], xs: vec![], ys: vec![] };
        work.settle();
        work
    }

    /// From the gaps to the places of columns and rows.
    fn settle(&mut self) {
        let sums = |gaps: &[f32]| {
            let mut sum = 0.0;
            [0.0]
                .into_iter()
                .chain(gaps.iter().map(|g| {
                    sum += g;
                    sum
                }))
                .collect::<Vec<f32>>()
        };
        (self.xs, self.ys) = (sums(&self.gaps[0]), sums(&self.gaps[1]));
    }

    fn center(&self, node: usize) -> Pos2 {
        let [col, row] = self.grid.nodes[node];
        pos2(self.xs[col], self.ys[row])
    }

    fn at_node(&self, node: usize, rect: Rect) -> Thing {
        let [col, row] = self.grid.nodes[node];
        Thing { rect: rect.translate(self.center(node).to_vec2()), cols: (col, col), rows: (row, row) }
    }

    fn routes(&self) -> Vec<Route> {
        let body = |node: usize| self.pieces[node].body.translate(self.center(node).to_vec2());
        let route = |(line, route): (&super::model::Line, &Vec<[usize; 2]>)| Route {
            points: in_points(route, &self.xs, &self.ys, body(line.from), body(line.to)),
            bridges: Vec::new(),
        };
        self.model.lines.iter().zip(&self.grid.routes).map(route).collect()
    }

    /// The straight parts of the pipes, each with its pipe, as wide as when flooded and a little more.
    fn pipes(&self) -> Vec<(usize, Thing)> {
        let mut out = Vec::new();
        for (pipe, (route, points)) in self.grid.routes.iter().zip(self.routes()).enumerate() {
            for (n, (a, b)) in points.parts().enumerate() {
                let (from, to) = (route[n], route[n + 1]);
                let ordered = |axis: usize| (from[axis].min(to[axis]), from[axis].max(to[axis]));
                let rect = Rect::from_two_pos(a, b).expand(CLEAR);
                out.push((pipe, Thing { rect, cols: ordered(0), rows: ordered(1) }));
            }
        }
        out
    }

    /// One round: what is in the way of what, and where the labels go; what must grow so that nothing is.
    fn round(&self, place: Vec2, names: &mut Names) -> Vec<Wish> {
        let price = self.price(place);
        let pipes = self.pipes();
        let mut wishes = self.crowding(&pipes, price);
        let mut things: Vec<Thing> = pipes.into_iter().map(|(_, thing)| thing).collect();
        for (node, piece) in self.pieces.iter().enumerate() {
            let around = [Some(piece.reach), piece.spindle].into_iter().flatten();
            things.extend(around.map(|rect| self.at_node(node, rect.expand(NEAR))));
        }
        names.chosen = vec![None; self.pieces.len()];
        names.crowded = 0;
        for node in self.order() {
            let Some((choice, grow, lost)) = self.best(node, &things, price) else { continue };
            let label = self.pieces[node].choices[choice].label.rect;
            names.chosen[node] = Some(choice);
            names.crowded += usize::from(lost || !grow.is_empty());
            wishes.extend(grow);
            things.push(self.at_node(node, label.expand2(BETWEEN)));
        }
        wishes
    }

    /// What can be turned is named first, then the rest, each in the order of the columns.
    fn order(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.pieces.len()).filter(|n| !self.pieces[*n].choices.is_empty()).collect();
        order.sort_by_key(|n| (!self.model.symbols[*n].turnable, self.grid.nodes[*n]));
        order
    }

    /// A point of growth is dear where the drawing is already too large for its place.
    fn price(&self, place: Vec2) -> Price {
        let of = |length: f32, room: f32| {
            let share = (length / room.max(1.0)).min(4.0);
            if share < 0.9 { 0.15 + 0.25 * share } else { share * share }
        };
        let size = self.extent().size();
        Price { x: of(size.x, place.x), y: of(size.y, place.y) }
    }

    /// Symbols and pipes that are too near to one another.
    fn crowding(&self, pipes: &[(usize, Thing)], price: Price) -> Vec<Wish> {
        let mut wishes = Vec::new();
        let mut part = |mine: Thing, other: Thing| {
            if overlap(mine.rect, other.rect) {
                wishes.extend(apart(&mine, &other, price).map(|(wish, _)| wish));
            }
        };
        let bodies: Vec<Vec<Thing>> = (0..self.pieces.len())
            .map(|node| {
                let piece = &self.pieces[node];
                [Some(piece.reach), piece.spindle].into_iter().flatten().map(|r| self.at_node(node, r)).collect()
            })
            .collect();
        for (node, mine) in bodies.iter().enumerate() {
            for mine in mine {
                let around = Thing { rect: mine.rect.expand(APART), ..*mine };
                bodies.iter().skip(node + 1).flatten().for_each(|other| part(around, *other));
                for (pipe, leg) in pipes {
                    let line = &self.model.lines[*pipe];
                    if line.from != node && line.to != node {
                        part(*mine, *leg);
                    }
                }
            }
        }
        wishes
    }

    /// The best place for a node's label, what must grow for it, and whether growing cannot help.
    fn best(&self, node: usize, things: &[Thing], price: Price) -> Option<(usize, Vec<Wish>, bool)> {
        const NEVER: f32 = 10_000.0;
        let piece = &self.pieces[node];
        let around = piece.choices.iter().fold(piece.reach, |all, c| all.union(c.label.rect));
        let around = self.at_node(node, around).rect;
        // Words that stand out beyond all symbols make the drawing larger, which matters where it is too large already.
        let extent = self.extent();
        let out = |rect: Rect| {
            let over = |low: f32, high: f32, from: f32, to: f32| (from - low).max(0.0) + (high - to).max(0.0);
            over(rect.left(), rect.right(), extent.left(), extent.right()) * (price.x - DEAR).max(0.0)
                + over(rect.top(), rect.bottom(), extent.top(), extent.bottom()) * (price.y - DEAR).max(0.0)
        };
        let near: Vec<&Thing> = things.iter().filter(|thing| overlap(thing.rect, around)).collect();
        let mut best: Option<(f32, usize, Vec<Wish>)> = None;
        for (n, choice) in piece.choices.iter().enumerate() {
            let mine = self.at_node(node, choice.label.rect);
            let most = best.as_ref().map_or(f32::INFINITY, |b| b.0);
            let (mut cost, mut wishes) = (choice.dislike + out(mine.rect), Vec::new());
            for thing in near.iter().filter(|thing| overlap(mine.rect, thing.rect)) {
                match apart(&mine, thing, price) {
                    Some((wish, price)) => {
                        cost += price;
                        wishes.push(wish);
                    }
                    None => cost += NEVER,
                }
                if cost >= most {
                    break;
                }
            }
            if cost < most {
                best = Some((cost, n, wishes));
            }
        }
        best.map(|(cost, n, wishes)| if cost >= NEVER { (n, Vec::new(), true) } else { (n, wishes, false) })
    }

    /// Moves columns and rows apart as wished, each gap by the most that is asked of it.
    fn grow(&mut self, wishes: &[Wish]) {
        for axis in [0, 1] {
            let mut more = vec![0.0_f32; self.gaps[axis].len()];
            for wish in wishes.iter().filter(|wish| wish.level == (axis == 0)) {
                let each = (wish.more + 0.5).max(0.5) / (wish.to - wish.from).max(1) as f32;
                more[wish.from..wish.to].iter_mut().for_each(|gap| *gap = gap.max(each));
            }
            self.gaps[axis].iter_mut().zip(more).for_each(|(gap, more)| *gap += more);
        }
        self.settle();
    }

    /// Makes the longest level part of a pipe longer; false where it has none.
    fn lengthen(&mut self, pipe: usize, more: f32) -> bool {
        let level = self.grid.routes[pipe].windows(2).filter(|w| w[0][1] == w[1][1]);
        let Some(part) = level.max_by_key(|w| w[0][0].abs_diff(w[1][0])) else { return false };
        let (from, to) = (part[0][0].min(part[1][0]), part[0][0].max(part[1][0]));
        self.grow(&[Wish { level: true, from, to, more }]);
        true
    }

    /// What everything that is no label takes up.
    fn extent(&self) -> Rect {
        let symbols = self.pieces.iter().enumerate().flat_map(|(node, piece)| {
            let move_by = self.center(node).to_vec2();
            [Some(piece.reach), piece.spindle].into_iter().flatten().map(move |r| r.translate(move_by))
        });
        let grid = Rect::from_min_max(
            Pos2::ZERO,
            pos2(self.xs.last().copied().unwrap_or(0.0), self.ys.last().copied().unwrap_or(0.0)),
        );
        symbols.fold(grid, |all, rect| all.union(rect))
    }

    /// Moves columns and rows further apart until the place is filled: the narrowest gaps first, so that the deck's
    /// grid shows as it was meant.
    fn fill(&mut self, place: Vec2) {
        let size = self.extent().size() + Vec2::splat(2.0 * MARGIN);
        for (axis, free, widest) in
            [(0, place.x - size.x - LABELS, WIDEST.x), (1, place.y - size.y - LABELS / 2.0, WIDEST.y)]
        {
            let used = if axis == 0 { &self.grid.cols } else { &self.grid.rows };
            let steps: Vec<f32> = used.windows(2).map(|w| (w[1] - w[0]).clamp(1, 5) as f32).collect();
            let taken = |pitch: f32, gaps: &[f32]| -> f32 {
                gaps.iter().zip(&steps).map(|(gap, step)| (pitch * step - gap).max(0.0)).sum()
            };
            let (mut low, mut high) = (0.0, widest);
            for _ in 0..24 {
                let pitch = (low + high) / 2.0;
                if taken(pitch, &self.gaps[axis]) <= free { low = pitch } else { high = pitch }
            }
            for (gap, step) in self.gaps[axis].iter_mut().zip(&steps) {
                *gap = gap.max(low * step);
            }
        }
        self.settle();
    }

    /// Everything that a medium's name must keep clear of.
    fn obstacles(&self, names: &Names) -> Vec<Rect> {
        let mut all: Vec<Rect> = self.pipes().into_iter().map(|(_, thing)| thing.rect).collect();
        for (node, piece) in self.pieces.iter().enumerate() {
            all.push(self.at_node(node, piece.reach).rect);
            all.extend(piece.spindle.map(|s| self.at_node(node, s).rect));
            let chosen = names.chosen.get(node).copied().flatten();
            all.extend(chosen.map(|n| self.at_node(node, piece.choices[n].label.rect).rect));
        }
        all
    }

    fn done(&self, names: Names, media: Vec<MediumLabel>) -> Layout {
        let mut routes = self.routes();
        bridge(&mut routes);
        let symbols = self.pieces.iter().enumerate().map(|(node, piece)| {
            let to = self.center(node).to_vec2();
            let chosen = names.chosen.get(node).copied().flatten();
            let label = chosen.map(|n| {
                let label = piece.choices[n].label.clone();
                Label { rect: label.rect.translate(to), ..label }
            });
            Placed {
                center: self.center(node),
                body: piece.body.translate(to),
                reach: piece.reach.translate(to),
                spindle: piece.spindle.map(|s| s.translate(to)),
                legs: piece.legs.clone(),
                ways: piece.ways,
                inside: piece.inside.clone(),
                label,
            }
        });
        let mut layout = Layout { size: Vec2::ZERO, symbols: symbols.collect(), routes, media, crowded: names.crowded };
        layout.move_to_origin();
        layout
    }
}

/// What labels stand out beyond the outermost symbols, when the place is filled.
const LABELS: f32 = 40.0;

impl Layout {
    /// Everything that is drawn lies in here.
    fn extent(&self) -> Rect {
        let symbols = self
            .symbols
            .iter()
            .flat_map(|s| [Some(s.reach), s.spindle, s.label.as_ref().map(|l| l.rect)].into_iter().flatten());
        let points = self.routes.iter().flat_map(|r| r.points.iter().map(|p| Rect::from_min_max(*p, *p)));
        let media = self.media.iter().map(|m| m.rect);
        symbols.chain(points).chain(media).fold(Rect::NOTHING, |all, rect| all.union(rect))
    }

    /// Moves everything so that it begins at the origin, with a margin, and takes its size.
    fn move_to_origin(&mut self) {
        let extent = self.extent();
        let by = vec2(MARGIN, MARGIN) - extent.min.to_vec2();
        for symbol in &mut self.symbols {
            symbol.center += by;
            symbol.body = symbol.body.translate(by);
            symbol.reach = symbol.reach.translate(by);
            symbol.spindle = symbol.spindle.map(|s| s.translate(by));
            if let Some(label) = &mut symbol.label {
                label.rect = label.rect.translate(by);
            }
        }
        for route in &mut self.routes {
            route.points.iter_mut().for_each(|p| *p += by);
            route.bridges.iter_mut().for_each(|(_, p)| *p += by);
        }
        self.media.iter_mut().for_each(|m| m.rect = m.rect.translate(by));
        self.size = extent.size() + Vec2::splat(2.0 * MARGIN);
    }
}
