//! Marks: shapes that keep one meaning, key boxes, number boxes, the recall bar.

use eframe::egui::epaint::PathShape;
use eframe::egui::text::LayoutJob;
use eframe::egui::{
    Align2, Color32, CornerRadius, Galley, Painter, Pos2, Rect, Response, Shape, Stroke, StrokeKind, Ui, Vec2, pos2,
    vec2,
};

use crate::ui::kit::text;
use crate::ui::theme::measure::{CORNER, KEY_BOX, KEY_PAD, LINE, NUMBER_BOX, S4, S8, S12};
use crate::ui::theme::{self, Cut, Size};

/// A shape with one meaning each.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// Said, right.
    Tick,
    /// Not said; does not hold.
    Ring,
    /// Holds.
    Dot,
    /// A fact that holds.
    Disc,
    /// A fact that does not hold; as large as the disc.
    Circle,
    /// Contradicted, refused.
    Cross,
    /// Not sure: somebody is asked.
    Query,
    /// Safety-critical.
    WedgeRight,
    /// Weak, or a problem.
    WedgeDown,
    /// A caution, or harm.
    WedgeUp,
}

/// Paints a mark about 14 wide around a centre.
pub fn mark(painter: &Painter, center: Pos2, mark: Mark, color: Color32) {
    let stroke = Stroke::new(2.0, color);
    let triangle = |points: [Vec2; 3]| {
        let points = points.map(|p| center + p).to_vec();
        painter.add(PathShape::convex_polygon(points, color, Stroke::NONE));
    };
    match mark {
        Mark::Tick => {
            let points = [vec2(-6.0, 0.5), vec2(-2.0, 5.0), vec2(6.0, -5.0)].map(|p| center + p).to_vec();
            painter.add(Shape::line(points, stroke));
        }
        Mark::Ring => {
            painter.circle_stroke(center, 6.5, Stroke::new(LINE, color));
        }
        Mark::Dot => {
            painter.circle_filled(center, 4.0, color);
        }
        Mark::Disc => {
            painter.circle_filled(center, 5.0, color);
        }
        Mark::Circle => {
            painter.circle_stroke(center, 4.5, Stroke::new(LINE * 1.25, color));
        }
        Mark::Cross => {
            for (a, b) in [(vec2(-5.0, -5.0), vec2(5.0, 5.0)), (vec2(-5.0, 5.0), vec2(5.0, -5.0))] {
                painter.line_segment([center + a, center + b], stroke);
            }
        }
        Mark::Query => {
            text::paint(painter, center, Align2::CENTER_CENTER, "?", Size::Body, Cut::Semi, color);
        }
        Mark::WedgeRight => triangle([vec2(-6.0, -7.0), vec2(6.0, 0.0), vec2(-6.0, 7.0)]),
        Mark::WedgeDown => triangle([vec2(-5.0, -4.0), vec2(5.0, -4.0), vec2(0.0, 4.5)]),
        Mark::WedgeUp => triangle([vec2(-7.0, 6.0), vec2(0.0, -6.0), vec2(7.0, 6.0)]),
    }
}

/// The dotted line under words that means *not sure*, for words painted at a place.
pub fn dotted_under(ui: &Ui, at: Pos2, words: &Galley, color: Color32) {
    for row in &words.rows {
        let rect = row.rect().translate(at.to_vec2());
        let y = ui.painter().round_to_pixel_center(rect.bottom());
        let ends = [pos2(rect.left(), y), pos2(rect.right(), y)];
        ui.painter().extend(Shape::dotted_line(&ends, color, S4, LINE));
    }
}

/// The wedge that hangs in the margin left of a row.
pub fn wedge_in_margin(ui: &Ui, row: Rect) {
    mark(ui.painter(), pos2(row.left() - S12 - 1.0, row.center().y), Mark::WedgeRight, theme::palette(ui).red_lead);
}

fn key_job(face: &str, color: Color32) -> LayoutJob {
    let mut format = theme::format(Size::Small, Cut::Mono, color);
    format.extra_letter_spacing = 0.5;
    LayoutJob::single_section(face.to_owned(), format)
}

/// The width of a key box.
pub(super) fn key_box_width(ui: &Ui, face: &str) -> f32 {
    let text = ui.painter().layout_job(key_job(face, Color32::PLACEHOLDER)).size().x;
    (text + 2.0 * KEY_PAD).max(KEY_BOX).round()
}

/// Paints a key box whose left edge stands at a place, centred in height; returns where it stands.
pub fn key_box(ui: &Ui, left_center: Pos2, face: &str, text: Color32, line: Color32) -> Rect {
    let size = vec2(key_box_width(ui, face), KEY_BOX);
    let rect = Align2::LEFT_CENTER.anchor_size(left_center, size);
    let rect = Rect::from_min_size(rect.min.round(), size);
    ui.painter().rect_stroke(rect, CornerRadius::same(CORNER), Stroke::new(LINE, line), StrokeKind::Inside);
    let galley = ui.painter().layout_job(key_job(face, text));
    ui.painter().galley(Align2::CENTER_CENTER.align_size_within_rect(galley.size(), rect).min, galley, text);
    rect
}

/// Paints the number box of a row.
pub fn number_box(ui: &Ui, left_center: Pos2, number: usize, color: Color32) -> Rect {
    let rect = Align2::LEFT_CENTER.anchor_size(left_center, Vec2::splat(NUMBER_BOX));
    let rect = Rect::from_min_size(rect.min.round(), rect.size());
    ui.painter().rect_stroke(rect, CornerRadius::same(CORNER), Stroke::new(LINE, color), StrokeKind::Inside);
    text::paint(ui.painter(), rect.center(), Align2::CENTER_CENTER, &number.to_string(), Size::Label, Cut::Mono, color);
    rect
}

/// A bar of recall from 0 to 1 with the target's mark on it.
pub fn recall_bar(ui: &Ui, rect: Rect, recall: f32, target: f32, weak: bool) {
    let p = theme::palette(ui);
    let axis = rect.center().y + S4;
    ui.painter().hline(rect.x_range(), axis, Stroke::new(LINE, p.line));
    let bar = Rect::from_min_max(
        pos2(rect.left(), axis - S8),
        pos2(rect.left() + rect.width() * recall.clamp(0.0, 1.0), axis),
    );
    ui.painter().rect_filled(bar, CornerRadius::ZERO, if weak { p.amber } else { p.sea });
    let x = ui.painter().round_to_pixel_center(rect.left() + rect.width() * target.clamp(0.0, 1.0));
    let tick = (rect.center().y - S8)..=(rect.center().y + S8);
    ui.painter().vline(x, tick, Stroke::new(LINE, p.ink));
}

/// The dashed slot where the next thing will be placed.
pub fn dashed_slot(ui: &Ui, rect: Rect) {
    let stroke = Stroke::new(LINE, theme::palette(ui).bronze);
    let corners = [rect.left_top(), rect.right_top(), rect.right_bottom(), rect.left_bottom(), rect.left_top()];
    ui.painter().extend(Shape::dashed_line(&corners, stroke, S4, S4));
}

/// The focus ring around a widget that has the keyboard's focus. What gets the focus out of sight is scrolled to.
pub fn ring_focus(ui: &Ui, response: &Response, rect: Rect) {
    if response.gained_focus() && !ui.clip_rect().contains_rect(response.rect) {
        response.scroll_to_me(None);
    }
    if response.has_focus() {
        let ring = rect.expand(2.0);
        ui.painter().rect_stroke(ring, CornerRadius::same(CORNER), theme::focus_ring(ui), StrokeKind::Outside);
    }
}
