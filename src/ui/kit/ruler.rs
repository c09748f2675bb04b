//! A ruler with a pointer: a number of minutes set by mouse or by arrow keys.

use eframe::egui::epaint::PathShape;
use eframe::egui::{
    Align2, CursorIcon, EventFilter, Key, Rect, Response, Sense, Stroke, Ui, WidgetInfo, accesskit, pos2, vec2,
};

use crate::ui::keys::{self, Held};
use crate::ui::kit::mark::ring_focus;
use crate::ui::kit::text;
use crate::ui::theme::measure::{LINE, S8, S12};
use crate::ui::theme::{self, Cut, Size};

const HEIGHT: f32 = 48.0;
const AXIS: f32 = 18.0;

/// Draws a ruler from 0 to `most`; the value stays between `least` and `most` and moves in steps.
pub fn ruler(ui: &mut Ui, name: &str, value: &mut u32, least: u32, most: u32, step: u32) -> Response {
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), HEIGHT));
    let id = ui.id().with(("ruler", name));
    let mut response = ui.interact(rect, id, Sense::click_and_drag());
    let axis =
        Rect::from_min_max(pos2(rect.left() + S8, rect.top() + AXIS), pos2(rect.right() - S8, rect.top() + AXIS + S12));
    let before = *value;
    if let Some(pointer) = response.interact_pointer_pos() {
        let share = ((pointer.x - axis.left()) / axis.width()).clamp(0.0, 1.0);
        *value = (share * most as f32 / step as f32).round() as u32 * step;
    }
    if response.has_focus() {
        keys::note(ui.ctx(), id, Held::Choice);
        ui.memory_mut(|m| {
            let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
            m.set_focus_lock_filter(id, filter);
        });
        let (less, more) = ui.input(|i| {
            (
                i.key_pressed(Key::ArrowLeft) || i.key_pressed(Key::ArrowDown),
                i.key_pressed(Key::ArrowRight) || i.key_pressed(Key::ArrowUp),
            )
        });
        *value = if less { value.saturating_sub(step) } else { *value + if more { step } else { 0 } };
    }
    let (dec, inc) = ui.input(|i| {
        (
            i.num_accesskit_action_requests(id, accesskit::Action::Decrement),
            i.num_accesskit_action_requests(id, accesskit::Action::Increment),
        )
    });
    *value = (*value + inc as u32 * step).saturating_sub(dec as u32 * step).clamp(least, most);
    if *value != before {
        response.mark_changed();
    }
    response.widget_info(|| WidgetInfo::slider(true, f64::from(*value), name));
    ui.ctx().accesskit_node_builder(id, |node| {
        node.set_min_numeric_value(f64::from(least));
        node.set_max_numeric_value(f64::from(most));
        node.set_numeric_value_step(f64::from(step));
        node.add_action(accesskit::Action::Increment);
        node.add_action(accesskit::Action::Decrement);
    });
    draw(ui, axis, *value, most, response.hovered() || response.has_focus());
    ring_focus(ui, &response, rect.shrink2(vec2(0.0, 1.0)));
    response.on_hover_cursor(CursorIcon::PointingHand)
}

fn draw(ui: &Ui, axis: Rect, value: u32, most: u32, lively: bool) {
    let p = theme::palette(ui);
    let line = Stroke::new(LINE, p.line);
    let painter = ui.painter();
    let y = painter.round_to_pixel_center(axis.top());
    painter.hline(axis.x_range(), y, line);
    let x_of = |v: u32| axis.left() + axis.width() * v as f32 / most as f32;
    let (minor, major) = if most > 60 { (10, 20) } else { (5, 10) };
    for v in (0..=most).step_by(minor) {
        let x = painter.round_to_pixel_center(x_of(v));
        let long = (v as usize).is_multiple_of(major);
        painter.vline(x, y..=(y + if long { 10.0 } else { 5.0 }), line);
        if long {
            let at = pos2(x, y + S12);
            text::paint(painter, at, Align2::CENTER_TOP, &v.to_string(), Size::Small, Cut::Mono, p.ink_second);
        }
    }
    let x = x_of(value);
    let top = y - 14.0;
    let points = [(-8.0, top), (8.0, top), (8.0, y - 6.0), (0.0, y), (-8.0, y - 6.0)];
    let points = points.iter().map(|(dx, py)| pos2(x + dx, *py)).collect();
    let fill = if lively { p.bronze.lerp_to_gamma(p.ink, 0.15) } else { p.bronze };
    painter.add(PathShape::convex_polygon(points, fill, Stroke::NONE));
}
