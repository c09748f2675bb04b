//! A drawing with parts, straight on the sheet in the colours of the theme: its dots, the marks of its parts, and the
//! flags with their names.

use std::collections::HashMap;
use std::sync::Arc;

use eframe::egui::emath::GuiRounding;
use eframe::egui::{
    Align2, Color32, ColorImage, CornerRadius, Pos2, Rect, Response, Sense, Stroke, StrokeKind, TextureHandle,
    TextureOptions, Ui, Vec2, WidgetInfo, WidgetType, pos2, vec2,
};

use crate::app::program::command::{CardCommand, Command};
use crate::domain::drawing::Drawing;
use crate::domain::english;
use crate::present::drawing::{DrawingPlace, DrawingState, DrawingView, Drawn, PartMark, PartShown};
use crate::ui::kit::picture::failed_ui;
use crate::ui::kit::{Mark, lines, mark, paint_in};
use crate::ui::theme::measure::{CORNER, DRAWING_HIGH, FOCUS, ITEM, LINE, RIM, S4, S8, S12, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// Before this time, in seconds, nothing is said of a drawing on its way.
const SOON: f64 = 0.3;
/// The share of a mark's colour that lies over the part.
const VEIL: f32 = 0.14;
/// The widest flag.
const FLAG: f32 = 320.0;

/// A drawing made ready: its textures, and what has been asked for.
#[derive(Default)]
pub struct DrawingLocal {
    drawn: Option<(Arc<Drawn>, TextureHandle)>,
    marks: HashMap<usize, TextureHandle>,
    asked: Option<DrawingPlace>,
    seen: Option<DrawingPlace>,
    since: Option<f64>,
}

/// A drawing on the sheet.
pub struct Laid {
    /// Where it stands.
    pub place: Rect,
    /// What the pointer does on it; none where it cannot be seen.
    pub response: Option<Response>,
    drawing: Arc<Drawing>,
    drawn: Option<Arc<Drawn>>,
}

/// The size that a drawing takes in a room.
pub fn fitted(drawing: &Drawing, most: Vec2) -> Vec2 {
    let whole = vec2(drawing.size[0] as f32, drawing.size[1] as f32);
    let scale = (most.x / whole.x).min(most.y / whole.y);
    (whole * scale).max(Vec2::splat(1.0))
}

/// Draws a drawing as large as it goes into a room, from the cursor on. Also says for which place it is to be drawn,
/// where that is another than before.
pub fn drawing(ui: &mut Ui, view: &DrawingView, local: &mut DrawingLocal, most: Vec2) -> (Laid, Option<Command>) {
    let size = fitted(&view.drawing, most);
    let (id, place) = ui.allocate_space(size);
    let dots = ui.pixels_per_point();
    let place = place.round_to_pixels(dots);
    let mut laid = Laid { place, response: None, drawing: Arc::clone(&view.drawing), drawn: None };
    if let DrawingState::Failed(sentence) = &view.state {
        *local = DrawingLocal::default();
        let mut child = ui.new_child(eframe::egui::UiBuilder::new().max_rect(place));
        failed_ui(&mut child, sentence);
        return (laid, None);
    }
    let side = |length: f32| (length * dots).round().max(1.0) as u32;
    let wanted = DrawingPlace {
        width: side(place.width()),
        height: side(place.height()),
        rim: RIM * dots,
        tint: theme::drawing_tint(ui),
    };
    let command = local.ask(ui, wanted);
    if let DrawingState::Ready(drawn) = &view.state {
        let response = ui.interact(place, id, Sense::click());
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Image, true, view.words()));
        let uv = Rect::from_min_max(Pos2::ZERO, pos2(1.0, 1.0));
        ui.painter().image(local.texture(ui, &view.name, drawn), place, uv, Color32::WHITE);
        laid.response = Some(response);
        laid.drawn = Some(Arc::clone(drawn));
        local.since = None;
    } else {
        local.loading(ui, view, place);
    }
    (laid, command)
}

impl DrawingLocal {
    /// Nothing is drawn any more.
    pub fn clear(&mut self) {
        *self = Self::default();
    }

    /// Asks for a place once; while the window is being made larger or smaller, not before that has come to rest.
    fn ask(&mut self, ui: &Ui, wanted: DrawingPlace) -> Option<Command> {
        let rests = self.seen.replace(wanted) == Some(wanted);
        if self.asked == Some(wanted) {
            return None;
        }
        if self.asked.is_some() && !rests {
            ui.ctx().request_repaint();
            return None;
        }
        self.asked = Some(wanted);
        Some(Command::Card(CardCommand::DrawFor(wanted)))
    }

    fn texture(&mut self, ui: &Ui, name: &str, drawn: &Arc<Drawn>) -> eframe::egui::TextureId {
        if self.drawn.as_ref().is_some_and(|(shown, _)| !Arc::ptr_eq(shown, drawn)) {
            self.drawn = None;
            self.marks.clear();
        }
        let (_, texture) = self.drawn.get_or_insert_with(|| {
            let size = [drawn.image.width as usize, drawn.image.height as usize];
            let dots = ColorImage::from_rgba_premultiplied(size, &drawn.image.rgba);
            (Arc::clone(drawn), ui.ctx().load_texture(name, dots, TextureOptions::LINEAR))
        });
        texture.id()
    }

    /// A sentence in the place of a drawing that does not come at once.
    fn loading(&mut self, ui: &Ui, view: &DrawingView, place: Rect) {
        let now = ui.input(|i| i.time);
        let left = *self.since.get_or_insert(now) + SOON - now;
        ui.painter().rect_stroke(place, CornerRadius::ZERO, theme::hairline(ui), StrokeKind::Inside);
        if left > 0.0 {
            ui.ctx().request_repaint_after(std::time::Duration::from_secs_f64(left));
            return;
        }
        let words = format!("The drawing {} is being drawn.", view.name);
        let row = Rect::from_min_size(place.min, vec2(place.width(), ITEM)).shrink2(vec2(S12, 0.0));
        paint_in(ui, row, Align2::LEFT_CENTER, &words, Size::Label, Cut::Regular, theme::palette(ui).ink_second);
    }

    /// Marks a part: a rim around it, and a veil over it.
    pub fn mark(&mut self, ui: &Ui, laid: &Laid, part: usize, color: Color32, rim: bool) {
        let Some((drawn, _)) = &self.drawn else { return };
        let Some(Some(mark)) = drawn.marks.get(part) else { return };
        let texture = self
            .marks
            .entry(part)
            .or_insert_with(|| ui.ctx().load_texture(format!("part {part}"), stencil(mark), TextureOptions::LINEAR));
        let (x, y) = (laid.place.width() / drawn.image.width as f32, laid.place.height() / drawn.image.height as f32);
        let [left, top, width, height] = mark.place;
        let at = laid.place.min + vec2(left * x, top * y);
        let at = Rect::from_min_size(at, vec2(width * x, height * y));
        let half = |from: f32| Rect::from_min_max(pos2(0.0, from), pos2(1.0, from + 0.5));
        // Half a dot in, so that nothing of the other half comes to the edge.
        let inset = 0.5 / (2 * mark.height) as f32;
        let uv = |from: f32| half(from).shrink2(vec2(0.0, inset));
        ui.painter().image(texture.id(), at, uv(0.5), color.gamma_multiply(VEIL));
        if rim {
            ui.painter().image(texture.id(), at, uv(0.0), color);
        }
    }
}

/// A mark as white of more or less: the rim in the upper half, the inside in the lower one.
fn stencil(mark: &PartMark) -> ColorImage {
    let dots = mark.rim.iter().chain(&mark.inside).flat_map(|much| [*much; 4]).collect::<Vec<u8>>();
    ColorImage::from_rgba_premultiplied([mark.width as usize, 2 * mark.height as usize], &dots)
}

impl Laid {
    /// The point of the drawing under a point of the window.
    pub fn units(&self, at: Pos2) -> [f64; 2] {
        let share = (at - self.place.min) / self.place.size();
        let along = |n: usize| self.drawing.origin[n] + f64::from(share[n]) * self.drawing.size[n];
        [along(0), along(1)]
    }

    /// The rectangle around a part, as far as it lies on the drawing.
    pub fn around(&self, part: usize) -> Rect {
        let Some([low, high]) = self.drawing.parts.get(part).and_then(|part| part.bounds) else { return self.place };
        let at = |units: [f64; 2]| {
            let share = |n: usize| ((units[n] - self.drawing.origin[n]) / self.drawing.size[n]) as f32;
            self.place.min + vec2(share(0), share(1)) * self.place.size()
        };
        Rect::from_min_max(at(low), at(high)).intersect(self.place)
    }

    /// A flag with words at a part. It keeps clear of what is `taken`, and its own place is added to that.
    pub fn flag(&self, ui: &Ui, part: usize, words: &str, shape: Option<Mark>, color: Color32, taken: &mut Vec<Rect>) {
        let p = theme::palette(ui);
        let room = ui.clip_rect();
        let left = if shape.is_some() { S24 + S4 } else { S8 };
        let most = FLAG.min(room.width() - 2.0 * S8);
        let text = lines(ui, words, most - left - S8, 2, Size::Label, Cut::Semi, p.ink);
        let size = vec2(left + text.size().x + S8, text.size().y + S4);
        let at = self.free_place(self.around(part), size, taken);
        let flag = Rect::from_min_size(at, size).round_to_pixels(ui.pixels_per_point());
        taken.push(flag);
        ui.painter().rect(flag, CornerRadius::same(CORNER), p.sheet, Stroke::new(LINE, color), StrokeKind::Inside);
        if let Some(shape) = shape {
            mark(ui.painter(), pos2(flag.left() + S16, flag.center().y), shape, color);
        }
        let at = pos2(flag.left() + left, flag.center().y - text.size().y / 2.0);
        ui.painter().galley(at, text, p.ink);
    }

    /// About how much of a rectangle of the window the drawing covers.
    fn ink(&self, rect: Rect) -> f32 {
        const STEP: f32 = 4.0;
        let Some(drawn) = &self.drawn else { return 0.0 };
        let (image, part) = (&drawn.image, rect.intersect(self.place));
        let mut covered = 0.0;
        let mut y = part.top() + STEP / 2.0;
        while y < part.bottom() {
            let mut x = part.left() + STEP / 2.0;
            while x < part.right() {
                let share = (pos2(x, y) - self.place.min) / self.place.size();
                let dot = |share: f32, side: u32| ((share * side as f32) as u32).min(side.saturating_sub(1)) as usize;
                let at = dot(share.y, image.height) * image.width as usize + dot(share.x, image.width);
                covered += image.rgba.get(4 * at + 3).map_or(0.0, |alpha| f32::from(*alpha) / 255.0);
                x += STEP;
            }
            y += STEP;
        }
        covered * STEP * STEP
    }

    /// Above the part, below it, to its right, to its left, or over it: the first place on the drawing that covers
    /// other flags, the part, and lines of the drawing least.
    fn free_place(&self, part: Rect, size: Vec2, taken: &[Rect]) -> Pos2 {
        let gap = S8;
        let middle = part.center() - size / 2.0;
        let places = [
            pos2(middle.x, part.top() - gap - size.y),
            pos2(middle.x, part.bottom() + gap),
            pos2(part.right() + gap, middle.y),
            pos2(part.left() - gap - size.x, middle.y),
            pos2(middle.x, part.top() + gap),
            pos2(middle.x, part.bottom() - gap - size.y),
            middle,
        ];
        let inside = |at: Pos2| {
            let most = (self.place.max - size).max(self.place.min);
            at.clamp(self.place.min, most)
        };
        let covered = |at: Pos2| {
            let flag = Rect::from_min_size(at, size).expand(S4 / 2.0);
            let over = |other: Rect| flag.intersect(other).is_positive().then(|| flag.intersect(other).area());
            // A flag over another or over another part is worse than one over its part, and that than one over lines.
            let flags = taken.iter().filter_map(|other| over(*other)).sum::<f32>() * 10.0;
            flags + over(part).unwrap_or(0.0) + self.ink(flag) * 0.5
        };
        let clear = places.into_iter().map(inside);
        clear.min_by(|a, b| covered(*a).total_cmp(&covered(*b))).unwrap_or(self.place.min)
    }
}

/// A drawing with the part pointed out that a card asks for, for reading.
pub fn part_shown(ui: &mut Ui, shown: &PartShown, local: &mut DrawingLocal) -> Option<Command> {
    let high = DRAWING_HIGH.min((ui.ctx().content_rect().height() * 0.4).round());
    let (laid, command) = drawing(ui, &shown.drawing, local, vec2(ui.available_width(), high));
    if laid.response.is_some() {
        let color = theme::palette(ui).sea;
        local.mark(ui, &laid, shown.part, color, true);
        let name = shown.drawing.drawing.parts.get(shown.part).map(|part| english::capital(&part.name));
        laid.flag(ui, shown.part, &name.unwrap_or_default(), Some(Mark::Tick), color, &mut Vec::new());
    }
    ui.add_space(FOCUS);
    command
}
