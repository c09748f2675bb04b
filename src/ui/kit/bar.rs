//! The dimensioned bar: parts of a whole with dimension lines, as on a drawing. Hatched parts are weak.

use eframe::egui::epaint::PathShape;
use eframe::egui::{
    Align2, Painter, Pos2, Rangef, Rect, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo, WidgetType, pos2, vec2,
};

use crate::present::watch::{BarPart, BarView};
use crate::ui::kit::text;
use crate::ui::theme::measure::{ITEM, LINE, S4, S8, S12, S16, S24};
use crate::ui::theme::{self, Cut, Size};

const PITCH: f32 = 7.0;
const LEAST: f32 = 64.0;

/// Draws the bar over the width there is.
pub fn dimensioned_bar(ui: &mut Ui, bar: &BarView) {
    let any_weak = bar.parts.iter().any(|p| p.weak);
    let keyed = needs_key(ui, bar);
    let height = ITEM + ITEM + 44.0 + if any_weak { S24 } else { 0.0 };
    let (id, rect) = ui.allocate_space(vec2(ui.available_width(), height));
    let response = ui.interact(rect, id, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Image, true, spoken(bar)));
    let body = Rect::from_min_size(rect.min + vec2(0.0, ITEM), vec2(rect.width(), ITEM));
    let p = theme::palette(ui);
    let painter = ui.painter();
    extension(ui, body.left(), body.top() - ITEM, body.top() - S4);
    extension(ui, body.right(), body.top() - ITEM, body.top() - S4);
    dimension(ui, body.x_range(), body.top() - 28.0, Some(&bar.whole));
    let mut left = body.left();
    for (index, (part, width)) in bar.parts.iter().zip(widths(ui, bar, body.width())).enumerate() {
        let cell = Rect::from_min_size(pos2(left, body.top()), vec2(width, body.height()));
        if part.weak {
            hatch(painter, cell, Stroke::new(LINE, p.amber))
        } else {
            painter.rect_filled(cell, 0, p.raised);
        }
        let figure = part.count.to_string();
        if part.weak {
            let wide = text::width_of(ui, &figure, Size::Body, Cut::Mono) + S16;
            let box_ = Rect::from_center_size(cell.center(), vec2(wide.min(width - S8), S24 + 2.0));
            painter.rect_filled(box_, 0, p.sheet);
        }
        text::paint(painter, cell.center(), Align2::CENTER_CENTER, &figure, Size::Body, Cut::Mono, p.ink);
        extension(ui, cell.right(), body.bottom(), body.bottom() + S24);
        dimension(ui, cell.x_range(), body.bottom() + S16, None);
        let place = Rect::from_min_size(pos2(cell.left() - S4, body.bottom() + S24 + S4), vec2(width + S8, 20.0));
        let words = if keyed { &letter(index) } else { &part.label };
        text::paint_in(ui, place, Align2::CENTER_CENTER, words, Size::Label, Cut::Regular, p.ink);
        if left > body.left() {
            painter.vline(painter.round_to_pixel_center(left), body.y_range(), Stroke::new(LINE, p.ink_second));
        }
        left += width;
    }
    extension(ui, body.left(), body.bottom(), body.bottom() + S24);
    painter.rect_stroke(body, 0, Stroke::new(LINE, p.ink_second), StrokeKind::Inside);
    if any_weak {
        legend(ui, pos2(rect.right(), rect.bottom() - S8));
    }
    if keyed {
        let item = |(i, part): (usize, &BarPart)| format!("{} {}", letter(i), part.label);
        let words: Vec<String> = bar.parts.iter().enumerate().map(item).collect();
        text::label(ui, &words.join(",  "), Size::Label, Cut::Regular, p.ink);
    }
}

/// Whether some name does not fit under its part: then the parts have letters, and a key below names them.
fn needs_key(ui: &Ui, bar: &BarView) -> bool {
    let fits =
        |(part, width): (&BarPart, f32)| text::width_of(ui, &part.label, Size::Label, Cut::Regular) <= width + S4;
    !bar.parts.iter().zip(widths(ui, bar, ui.available_width())).all(fits)
}

fn letter(index: usize) -> String {
    char::from(b'A' + (index % 26) as u8).to_string()
}

fn spoken(bar: &BarView) -> String {
    let part = |p: &BarPart| format!("{} {}{}", p.count, p.label, if p.weak { " (weak)" } else { "" });
    format!("{}: {}", bar.whole, bar.parts.iter().map(part).collect::<Vec<_>>().join(", "))
}

/// Widths in proportion, but none too narrow for its figure nor, where there is room for that, for its name.
fn widths(ui: &Ui, bar: &BarView, whole: f32) -> Vec<f32> {
    let total: usize = bar.parts.iter().map(|p| p.count).sum::<usize>().max(1);
    let names = bar.parts.iter().map(|p| text::width_of(ui, &p.label, Size::Label, Cut::Regular).ceil());
    let mut least: Vec<f32> = names.map(|w| (w + S4).max(LEAST)).collect();
    if least.iter().sum::<f32>() > whole {
        least = vec![LEAST.min(whole / bar.parts.len().max(1) as f32); bar.parts.len()];
    }
    let share = |p: &BarPart| whole * p.count as f32 / total as f32;
    let wished: Vec<f32> = bar.parts.iter().zip(&least).map(|(p, l)| share(p).max(*l)).collect();
    let over: f32 = wished.iter().sum::<f32>() - whole;
    let spare: f32 = wished.iter().zip(&least).map(|(w, l)| w - l).sum::<f32>().max(1.0);
    wished.iter().zip(&least).map(|(w, l)| w - over * (w - l) / spare).collect()
}

fn extension(ui: &Ui, x: f32, top: f32, bottom: f32) {
    let x = ui.painter().round_to_pixel_center(x);
    ui.painter().vline(x, top..=bottom, theme::line(ui));
}

/// A dimension line with arrows, broken for its text where it has one.
fn dimension(ui: &Ui, x: Rangef, y: f32, words: Option<&str>) {
    let p = theme::palette(ui);
    let painter = ui.painter();
    let y = painter.round_to_pixel_center(y);
    let stroke = Stroke::new(LINE, p.line);
    arrow(painter, pos2(x.min + LINE, y), 1.0, stroke);
    arrow(painter, pos2(x.max - LINE, y), -1.0, stroke);
    let Some(words) = words else {
        painter.hline(x, y, stroke);
        return;
    };
    let at = pos2(x.center(), y);
    let placed = text::paint(painter, at, Align2::CENTER_CENTER, words, Size::Label, Cut::Regular, p.ink_second);
    painter.hline(Rangef::new(x.min, placed.left() - S8), y, stroke);
    painter.hline(Rangef::new(placed.right() + S8, x.max), y, stroke);
}

fn arrow(painter: &Painter, tip: Pos2, direction: f32, stroke: Stroke) {
    let points = vec![tip, tip + vec2(8.0 * direction, -3.0), tip + vec2(8.0 * direction, 3.0)];
    painter.add(PathShape::convex_polygon(points, stroke.color, Stroke::NONE));
}

/// Lines at 45° inside of a rectangle.
fn hatch(painter: &Painter, rect: Rect, stroke: Stroke) {
    let painter = painter.with_clip_rect(rect.intersect(painter.clip_rect()));
    let step = PITCH * std::f32::consts::SQRT_2;
    let mut x = rect.left() - rect.height();
    while x < rect.right() {
        painter.add(Shape::line_segment([pos2(x, rect.bottom()), pos2(x + rect.height(), rect.top())], stroke));
        x += step;
    }
}

fn legend(ui: &Ui, right_center: Pos2) {
    let p = theme::palette(ui);
    let words = "hatched: holds one of the weakest areas";
    let painter = ui.painter();
    let placed =
        text::paint(painter, right_center, Align2::RIGHT_CENTER, words, Size::Small, Cut::Regular, p.ink_second);
    let swatch = Rect::from_min_size(pos2(placed.left() - 26.0, right_center.y - 6.0), vec2(20.0, S12));
    hatch(painter, swatch, Stroke::new(LINE, p.amber));
    painter.rect_stroke(swatch, 0, Stroke::new(LINE, p.ink_second), StrokeKind::Inside);
}
