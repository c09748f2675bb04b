//! Choices: one of several as rows, or yes and no.

use eframe::egui::{
    Align2, CornerRadius, CursorIcon, Rect, Response, Sense, Stroke, StrokeKind, Ui, WidgetInfo, WidgetType, pos2, vec2,
};

use crate::ui::keys::{self, Held};
use crate::ui::kit::mark::{Mark, mark, ring_focus};
use crate::ui::kit::text;
use crate::ui::theme::measure::{CORNER, LINE, OPTION_ROW, S4, S8, S12, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// One of several: a row with a ring, a name and, at its right, a note in the figures' face.
pub fn option(ui: &mut Ui, chosen: bool, name: &str, note: &str) -> Response {
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), OPTION_ROW));
    let response = ui.interact(rect, ui.id().with(("option", name)), Sense::click());
    let said = if note.is_empty() { name.to_owned() } else { format!("{name}, {note}") };
    response.widget_info(|| WidgetInfo::selected(WidgetType::RadioButton, true, chosen, &said));
    if response.has_focus() {
        keys::note(ui.ctx(), response.id, Held::Choice);
    }
    let p = theme::palette(ui);
    if chosen {
        ui.painter().rect(rect, CornerRadius::same(CORNER), p.raised, Stroke::new(LINE, p.bronze), StrokeKind::Inside);
    } else {
        if response.hovered() {
            ui.painter().rect_filled(rect.shrink(LINE), CornerRadius::ZERO, p.raised);
        }
        ui.painter().hline(rect.x_range(), rect.bottom() - LINE / 2.0, theme::hairline(ui));
    }
    let center = pos2(rect.left() + S8 + S12, rect.center().y);
    ring(ui, center, chosen);
    let right = pos2(rect.right() - S12, rect.center().y);
    let noted = text::paint(ui.painter(), right, Align2::RIGHT_CENTER, note, Size::Label, Cut::Mono, p.ink_second);
    let place = Rect::from_min_max(pos2(rect.left() + S40, rect.top()), pos2(noted.left() - S8, rect.bottom()));
    let fits = text::width_of(ui, name, Size::Body, Cut::Regular) <= place.width();
    let size = if fits { Size::Body } else { Size::Label };
    let galley = text::lines(ui, name, place.width(), 1, size, Cut::Regular, p.ink);
    ui.painter().galley(Align2::LEFT_CENTER.align_size_within_rect(galley.size(), place).min, galley, p.ink);
    ring_focus(ui, &response, rect);
    response.on_hover_cursor(CursorIcon::PointingHand)
}

fn ring(ui: &Ui, center: eframe::egui::Pos2, chosen: bool) {
    let p = theme::palette(ui);
    let color = if chosen { p.bronze } else { p.line };
    ui.painter().circle_stroke(center, 6.5, Stroke::new(1.5, color));
    if chosen {
        ui.painter().circle_filled(center, 3.5, color);
    }
}

/// Yes or no: a small box with a tick, and a name.
pub fn toggle(ui: &mut Ui, on: bool, name: &str) -> Response {
    let width = text::width_of(ui, name, Size::Body, Cut::Regular) + S24 + S8;
    let (_, rect) = ui.allocate_space(vec2(width.min(ui.available_width()), OPTION_ROW));
    let response = ui.interact(rect, ui.id().with(("toggle", name)), Sense::click());
    response.widget_info(|| WidgetInfo::selected(WidgetType::Checkbox, true, on, name));
    if response.has_focus() {
        keys::note(ui.ctx(), response.id, Held::Choice);
    }
    let p = theme::palette(ui);
    let square = Rect::from_min_size(pos2(rect.left(), (rect.center().y - S12).round()), vec2(S24, S24));
    ui.painter().rect_stroke(
        square,
        CornerRadius::same(CORNER),
        Stroke::new(LINE, if on { p.sea } else { p.line }),
        StrokeKind::Inside,
    );
    if on {
        mark(ui.painter(), square.center(), Mark::Tick, p.sea);
    }
    let place = Rect::from_min_max(pos2(square.right() + S8, rect.top()), rect.max);
    let galley = text::lines(ui, name, place.width() + LINE, 1, Size::Body, Cut::Regular, p.ink);
    ui.painter().galley(Align2::LEFT_CENTER.align_size_within_rect(galley.size(), place).min, galley, p.ink);
    ring_focus(ui, &response, rect.expand2(vec2(S4, 0.0)));
    response.on_hover_cursor(CursorIcon::PointingHand)
}
