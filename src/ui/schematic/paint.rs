//! Draws a schematic that has been laid out: pipes, what floods them, symbols, names. It makes no widgets.

use eframe::egui::epaint::PathShape;
use eframe::egui::text::LayoutJob;
use eframe::egui::{
    Align2, Color32, CornerRadius, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, Ui, Vec2, pos2, vec2,
};

use crate::domain::piping::{Medium, NodeKind, Setting};
use crate::present::kinds::lineup::{FloodedPipe, SchematicView, medium_name};
use crate::ui::kit;
use crate::ui::schematic::camera::Sight;
use crate::ui::schematic::labels::{Label, StateAt};
use crate::ui::schematic::layout::{Layout, lay};
use crate::ui::schematic::model::{Model, Text};
use crate::ui::schematic::routes::{BRIDGE, Dir, Leg, Route};
use crate::ui::schematic::symbols::{Fill, Look, Part, name_place, symbol};
use crate::ui::theme::measure::{CORNER, LINE};
use crate::ui::theme::{self, Cut, Palette, Size};

/// A pipe that nothing flows in.
const IDLE: f32 = 1.5;
/// A flooded pipe.
const FLOODED: f32 = 6.0;
/// An arrow in a flooded pipe: its length and half of its width.
const ARROW: Vec2 = vec2(18.0, 8.0);
/// A pipe shorter than this has no arrow.
const ARROW_FITS: f32 = 30.0;
/// The outlines of symbols.
const OUTLINE: f32 = 1.5;
/// The ship's side, and stops.
const HEAVY: f32 = 3.0;
/// The mark of a medium with two colours: one band, along and across.
const BAND: Vec2 = vec2(5.0, 8.0);

/// A line-up laid out for a place, its words as wide as they are painted.
pub fn laid_out(ui: &Ui, view: &SchematicView, place: Vec2) -> (Model, Layout) {
    let model = Model::of(view);
    let width = |text: &str, kind: Text| {
        let (size, cut) = match kind {
            Text::Name => (Size::Label, Cut::Regular),
            Text::Inside => (Size::Label, Cut::Semi),
            Text::State => (Size::Small, Cut::Regular),
            Text::Medium => (Size::Label, Cut::Italic),
        };
        kit::width_of(ui, text, size, cut)
    };
    let layout = lay(&model, place, &width);
    (model, layout)
}

/// What is drawn, and how it stands.
pub struct Paint<'a> {
    /// Words of the label.
    pub view: &'a SchematicView,
    /// What there is.
    pub model: &'a Model,
    /// Where it is.
    pub layout: &'a Layout,
    /// Which part of it is seen.
    pub sight: Sight,
    /// How everything stands.
    pub set: &'a Setting,
    /// What floods it.
    pub flooded: &'a [FloodedPipe],
    /// So many steps of it are flooded by now.
    pub steps: f32,
}

impl Paint<'_> {
    /// Draws everything.
    pub fn show(&self, ui: &Ui, painter: &Painter) {
        for pipe in 0..self.layout.routes.len() {
            self.idle(ui, painter, pipe);
        }
        // What must not flow is drawn over what may.
        for leak in [false, true] {
            for flooded in self.flooded.iter().filter(|f| f.leak == leak) {
                self.flood(ui, painter, flooded);
            }
        }
        for node in 0..self.layout.symbols.len() {
            self.symbol(ui, painter, node);
        }
        for node in 0..self.layout.symbols.len() {
            self.words(ui, painter, node);
        }
        for named in &self.layout.media {
            let color = theme::media::name_on(ui, named.medium);
            let job = LayoutJob::single_section(
                medium_name(named.medium).to_owned(),
                theme::scaled(Size::Label, Cut::Italic, color, self.sight.scale),
            );
            let galley = painter.layout_job(job);
            let rect = Align2::CENTER_CENTER.align_size_within_rect(galley.size(), self.sight.rect(named.rect));
            if painter.clip_rect().x_range().contains(rect.left())
                && painter.clip_rect().x_range().contains(rect.right())
            {
                painter.galley(rect.min, galley, color);
            }
        }
        self.leak_words(ui, painter);
    }

    fn color(&self, ui: &Ui, medium: Option<Medium>) -> Color32 {
        medium.map_or(theme::palette(ui).ink_second, |medium| theme::media::pipe(ui, medium).0)
    }

    fn idle(&self, ui: &Ui, painter: &Painter, pipe: usize) {
        let route = &self.layout.routes[pipe];
        let medium = self.model.lines[pipe].medium;
        let color = self.color(ui, medium);
        self.way(painter, route, &route.points, IDLE, color);
        let Some((_, Some(second))) = medium.map(|m| theme::media::pipe(ui, m)) else { return };
        let named = self.layout.media.iter().find(|named| named.pipe == pipe);
        if let Some(at) = named.and_then(|named| nearest(route, named.rect.center())) {
            self.bands(painter, at, [color, second, color]);
        }
    }

    /// The mark of a medium with two colours, on its pipe beside its name: main, second, main.
    fn bands(&self, painter: &Painter, (at, level): (Pos2, bool), colors: [Color32; 3]) {
        let size = if level { BAND } else { vec2(BAND.y, BAND.x) };
        for (n, color) in colors.into_iter().enumerate() {
            let step = (n as f32 - 1.0) * BAND.x;
            let middle = at + if level { vec2(step, 0.0) } else { vec2(0.0, step) };
            let band = self.sight.rect(Rect::from_center_size(middle, size));
            painter.rect_filled(band, CornerRadius::ZERO, color);
        }
    }

    /// A way in points of the drawing, with the bridges of its route.
    fn way(&self, painter: &Painter, route: &Route, points: &[Pos2], width: f32, color: Color32) {
        let ppp = painter.pixels_per_point();
        let pixels = (width * self.sight.scale * ppp + 0.2).round().max(1.0);
        let width = pixels / ppp;
        // The edges of a straight line fall on edges of pixels.
        let snap = |v: f32| {
            let shift = if pixels as i32 % 2 == 1 { 0.5 } else { 0.0 };
            ((v * ppp - shift).round() + shift) / ppp
        };
        let at = |p: Pos2| {
            let p = self.sight.at(p);
            pos2(snap(p.x), snap(p.y))
        };
        for (a, b) in points.windows(2).map(|w| (w[0], w[1])) {
            let over: Vec<f32> = route
                .bridges
                .iter()
                .filter(|(_, c)| a.y == b.y && c.y == a.y && c.x > a.x.min(b.x) && c.x < a.x.max(b.x))
                .map(|(_, c)| c.x)
                .collect();
            let (from, to) = (at(a), at(b));
            let half = Vec2::splat(width / 2.0);
            if over.is_empty() {
                let bar = Rect::from_min_max(from.min(to) - half, from.max(to) + half);
                painter.rect_filled(bar, CornerRadius::ZERO, color);
                continue;
            }
            let (left, right) = (from.min(to), from.max(to));
            let radius = BRIDGE * self.sight.scale;
            let mut humped = vec![left - vec2(half.x, 0.0)];
            let mut places: Vec<f32> = over.iter().map(|x| at(pos2(*x, a.y)).x).collect();
            places.sort_by(f32::total_cmp);
            for x in places {
                for n in 0..=12 {
                    let angle = std::f32::consts::PI * (1.0 - n as f32 / 12.0);
                    humped.push(pos2(x + radius * angle.cos(), left.y - radius * angle.sin()));
                }
            }
            humped.push(right + vec2(half.x, 0.0));
            painter.add(Shape::line(humped, Stroke::new(width, color)));
        }
    }

    fn flood(&self, ui: &Ui, painter: &Painter, flooded: &FloodedPipe) {
        let share = (self.steps - flooded.step as f32).clamp(0.0, 1.0);
        let Some(route) = self.layout.routes.get(flooded.pipe).filter(|_| share > 0.0) else { return };
        let medium = self.model.lines[flooded.pipe].medium;
        let color = if flooded.leak { theme::palette(ui).red_lead } else { self.color(ui, medium) };
        let mut points = route.points.clone();
        if !flooded.forward {
            points.reverse();
        }
        self.way(painter, route, &first_part(&points, share), FLOODED, color);
        if share >= 1.0
            && let Some((at, dir)) = arrow_place(&points, &route.bridges)
        {
            let aside = vec2(-dir.y, dir.x) * ARROW.y;
            let tip = at + dir * ARROW.x / 2.0;
            let foot = at - dir * ARROW.x / 2.0;
            let points = [tip, foot + aside, foot - aside].map(|p| self.sight.at(p)).to_vec();
            painter.add(PathShape::convex_polygon(points, color, Stroke::NONE));
        }
    }

    fn symbol(&self, ui: &Ui, painter: &Painter, node: usize) {
        let (placed, of) = (&self.layout.symbols[node], &self.model.symbols[node]);
        let ways = placed.ways.map(|sides| (sides, self.set.way.get(node).copied().flatten()));
        let look = Look {
            legs: &placed.legs,
            body: placed.body.translate(-placed.center.to_vec2()),
            open: self.set.open.get(node).copied().unwrap_or(true),
            ways,
        };
        let wet = self.color(ui, self.wet(node));
        let p = theme::palette(ui);
        let around = |point: Pos2| self.sight.at(placed.center + point.to_vec2());
        draw_parts(painter, p, &symbol(of.kind, &look), wet, self.sight.scale, &around);
    }

    /// What is in a node.
    fn wet(&self, node: usize) -> Option<Medium> {
        self.view.media.nodes.get(node).copied().flatten()
    }

    fn words(&self, ui: &Ui, painter: &Painter, node: usize) {
        let p = theme::palette(ui);
        let (placed, of) = (&self.layout.symbols[node], &self.model.symbols[node]);
        if !placed.inside.is_empty() {
            let middle = name_place(of.kind, placed.body);
            let top = middle.y - placed.inside.len() as f32 * Text::Inside.line() / 2.0;
            for (n, line) in placed.inside.iter().enumerate() {
                let at = pos2(middle.x, top + (n as f32 + 0.5) * Text::Inside.line());
                self.line(painter, at, 0.0, line, (Size::Label, Cut::Semi, p.ink));
            }
        }
        let Some(label) = &placed.label else { return };
        let ink = if of.kind == NodeKind::Junction { p.ink_second } else { p.ink };
        self.label(painter, label, ink, self.view.state(node, self.set), p);
    }

    fn label(&self, painter: &Painter, label: &Label, ink: Color32, state: Option<String>, p: &Palette) {
        let align = if matches!(label.state, Some(StateAt::Behind(_))) { -1.0 } else { label.side.align() };
        let x = label.rect.center().x + align * label.rect.width() / 2.0;
        let mut y = label.rect.top() + Text::Name.line() / 2.0;
        for line in &label.lines {
            self.line(painter, pos2(x, y), align, line, (Size::Label, Cut::Regular, ink));
            y += Text::Name.line();
        }
        let at = match label.state {
            Some(StateAt::Under) => pos2(x, y + (Text::State.line() - Text::Name.line()) / 2.0),
            Some(StateAt::Behind(far)) => pos2(x + far, y - Text::Name.line() + 1.0),
            None => return,
        };
        if let Some(state) = state {
            self.line(painter, at, align, &state, (Size::Small, Cut::Regular, p.ink_second));
        }
    }

    /// One line of words, its middle at this height; `align` as of a label's side.
    fn line(&self, painter: &Painter, at: Pos2, align: f32, text: &str, (size, cut, ink): (Size, Cut, Color32)) {
        let format = theme::scaled(size, cut, ink, self.sight.scale);
        let galley = painter.layout_job(LayoutJob::single_section(text.to_owned(), format));
        let at = self.sight.at(at);
        let left = at.x - galley.size().x * (align + 1.0) / 2.0;
        let seen = painter.clip_rect();
        if left < seen.left() || left + galley.size().x > seen.right() {
            // Half a word at the edge of what is seen says less than none.
            return;
        }
        painter.galley(pos2(left, at.y - galley.size().y / 2.0), galley, ink);
    }

    /// The word on what flows and must not.
    fn leak_words(&self, ui: &Ui, painter: &Painter) {
        let leaks = self.flooded.iter().filter(|f| f.leak && self.steps >= (f.step + 1) as f32);
        let routes = leaks.filter_map(|f| self.layout.routes.get(f.pipe));
        let longest =
            routes.flat_map(Route::parts).max_by(|a, b| (a.1 - a.0).length().total_cmp(&(b.1 - b.0).length()));
        let Some((a, b)) = longest else { return };
        let p = theme::palette(ui);
        let format = theme::scaled(Size::Small, Cut::Semi, p.red_lead, self.sight.scale.max(0.8));
        let galley = painter.layout_job(LayoutJob::single_section(LEAK.to_owned(), format));
        // Off the middle, where the arrow is.
        let at = self.sight.at(a + (b - a) * 0.25);
        let plate = Rect::from_center_size(at, galley.size() + vec2(8.0, 2.0));
        painter.rect(plate, CornerRadius::same(CORNER), p.sheet, Stroke::new(LINE, p.red_lead), StrokeKind::Inside);
        painter.galley(plate.center() - galley.size() / 2.0, galley, p.red_lead);
    }
}

/// The word on a flow that must not be.
const LEAK: &str = "must not flow";

/// Half of the body of a symbol that has no words in it.
const BARE: Vec2 = vec2(24.0, 18.0);

/// The symbol of a node by itself, lying along its row: for a drawing that is still being made.
pub fn bare_symbol(ui: &Ui, kind: NodeKind, open: bool, center: Pos2) {
    let p = theme::palette(ui);
    let body = Rect::from_center_size(Pos2::ZERO, BARE * 2.0);
    let sides: &[Dir] = match kind {
        NodeKind::Junction => &[Dir::Left, Dir::Right],
        NodeKind::ThreeWay => &[Dir::Left, Dir::Right, Dir::Down],
        _ => &[],
    };
    let legs: Vec<Leg> = sides.iter().map(|dir| Leg { dir: *dir, pipe: 0, out: true }).collect();
    let look = Look { legs: &legs, body, open, ways: None };
    let around = |point: Pos2| center + point.to_vec2();
    draw_parts(ui.painter(), p, &symbol(kind, &look), p.line, 1.0, &around);
}

/// The pieces of a symbol; `at` is from around its centre to the window.
fn draw_parts(painter: &Painter, p: &Palette, parts: &[Part], wet: Color32, scale: f32, at: &dyn Fn(Pos2) -> Pos2) {
    let thin = Stroke::new((OUTLINE * scale).max(1.0), p.ink);
    let fill_of = |fill: &Fill| match fill {
        Fill::Sheet => (p.sheet, thin),
        Fill::Ink => (p.ink, thin),
        Fill::Medium => (wet, Stroke::NONE),
    };
    let line = |points: &[Pos2], stroke: Stroke| {
        painter.add(Shape::line(points.iter().map(|p| at(*p)).collect(), stroke));
    };
    for part in parts {
        match part {
            Part::Line(points) => line(points, thin),
            Part::Heavy(points) => line(points, Stroke::new(HEAVY * scale, p.ink)),
            Part::Wet(points) => line(points, Stroke::new((OUTLINE * scale).max(1.0), wet)),
            Part::Dashed(ends) => {
                let ends = ends.map(at);
                painter.extend(Shape::dashed_line(&ends, thin, 3.0 * scale, 3.0 * scale));
            }
            Part::Shape(points, fill) => {
                let (fill, stroke) = fill_of(fill);
                let points = points.iter().map(|p| at(*p)).collect();
                painter.add(PathShape::convex_polygon(points, fill, stroke));
            }
            Part::Circle(center, radius, fill) => {
                let (fill, stroke) = fill_of(fill);
                painter.circle(at(*center), radius * scale, fill, stroke);
            }
        }
    }
}

/// The first part of a way, as much of its length.
fn first_part(points: &[Pos2], share: f32) -> Vec<Pos2> {
    if share >= 1.0 {
        return points.to_vec();
    }
    let whole: f32 = points.windows(2).map(|w| (w[1] - w[0]).length()).sum();
    let mut left = whole * share;
    let mut out: Vec<Pos2> = points.first().copied().into_iter().collect();
    for w in points.windows(2) {
        let long = (w[1] - w[0]).length();
        if long >= left {
            out.push(w[0] + (w[1] - w[0]) * (left / long.max(f32::EPSILON)));
            break;
        }
        left -= long;
        out.push(w[1]);
    }
    out
}

/// The middle of the longest straight part, and which way it goes; none where an arrow has no room. Where a bridge
/// is in the middle the arrow stands beside it.
fn arrow_place(points: &[Pos2], bridges: &[(usize, Pos2)]) -> Option<(Pos2, Vec2)> {
    let longest = points.windows(2).max_by(|a, b| (a[1] - a[0]).length().total_cmp(&(b[1] - b[0]).length()))?;
    let way = longest[1] - longest[0];
    if way.length() < ARROW_FITS {
        return None;
    }
    let clear = |at: &Pos2| bridges.iter().all(|(_, b)| (*b - *at).length() >= BRIDGE + ARROW.x / 2.0 + 2.0);
    let places = [0.5, 0.35, 0.65, 0.2, 0.8].map(|share| longest[0] + way * share);
    let at = places.into_iter().find(clear).unwrap_or(places[0]);
    Some((at, way / way.length()))
}

/// The point of a route that is nearest to a place, and whether it is level there.
fn nearest(route: &Route, place: Pos2) -> Option<(Pos2, bool)> {
    let on = |(a, b): (Pos2, Pos2)| {
        let whole = Rect::from_two_pos(a, b);
        (whole.clamp(place), a.y == b.y)
    };
    route.parts().map(on).min_by(|a, b| (a.0 - place).length().total_cmp(&(b.0 - place).length()))
}

/// A valve beside a word, or a piece of flooded pipe: for the legend. Returns how wide it is.
pub fn legend(ui: &Ui, at: Pos2, what: Legend) -> f32 {
    let p = theme::palette(ui);
    match what {
        Legend::Valve(open) => {
            let leg = |dir, out| Leg { dir, pipe: 0, out };
            let legs = [leg(Dir::Left, false), leg(Dir::Right, true)];
            let body = Rect::from_center_size(Pos2::ZERO, vec2(24.0, 16.0));
            let look = Look { legs: &legs, body, open, ways: None };
            let parts = symbol(NodeKind::Valve, &look);
            let around = |point: Pos2| at + vec2(12.0, 0.0) + point.to_vec2();
            draw_parts(ui.painter(), p, &parts, p.ink, 1.0, &around);
            24.0
        }
        Legend::Flooded(color) => {
            let bar = Rect::from_min_size(at - vec2(0.0, FLOODED / 2.0), vec2(28.0, FLOODED));
            ui.painter().rect_filled(bar, CornerRadius::ZERO, color);
            28.0
        }
    }
}

/// What the legend explains.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Legend {
    /// A valve, open or shut.
    Valve(bool),
    /// A flooded pipe in this colour.
    Flooded(Color32),
}
