//! Lists whose items are chosen and moved: what assistive technology is told of them, and how they look.

use eframe::egui::{
    Align2, CornerRadius, Painter, Pos2, Rect, Response, Stroke, StrokeKind, Ui, accesskit, pos2, vec2,
};

use crate::ui::keys::{self, Held, Hot};
use crate::ui::kit::mark::{key_box, key_box_width, ring_focus};
use crate::ui::kit::text;
use crate::ui::theme::measure::{CORNER, LINE, S4, S8, S24};
use crate::ui::theme::{self, Cut, Size};

/// Makes this part of the page a list with a name.
pub fn list(ui: &Ui, name: &str, count: usize) {
    let name = name.to_owned();
    ui.ctx().accesskit_node_builder(ui.unique_id(), |node| {
        node.set_role(accesskit::Role::ListBox);
        node.set_label(name);
        node.set_size_of_set(count);
    });
}

/// Makes a widget an item of such a list: its place (from 1) of how many, whether it is chosen.
pub fn list_item(ui: &Ui, response: &Response, place: (usize, usize), chosen: bool) {
    ui.ctx().accesskit_node_builder(response.id, |node| {
        node.set_role(accesskit::Role::ListBoxOption);
        node.set_position_in_set(place.0);
        node.set_size_of_set(place.1);
        node.set_selected(chosen);
    });
}

/// The ground of an item that is chosen, or under the pointer, or neither.
pub fn item_ground(ui: &Ui, rect: Rect, chosen: bool, hovered: bool, outlined: bool) {
    let p = theme::palette(ui);
    let fill = if chosen || hovered { p.raised } else { p.sheet };
    let stroke = match (chosen, outlined) {
        (true, _) => Stroke::new(LINE, p.bronze),
        (false, true) => Stroke::new(LINE, p.line),
        (false, false) => Stroke::NONE,
    };
    ui.painter().rect(rect, CornerRadius::same(CORNER), fill, stroke, StrokeKind::Inside);
}

/// The three short lines by which an item is dragged, around a centre.
pub fn grip(painter: &Painter, center: Pos2, stroke: Stroke) {
    for y in [-S4, 0.0, S4] {
        let y = painter.round_to_pixel_center(center.y + y);
        painter.hline((center.x - 5.5)..=(center.x + 5.5), y, stroke);
    }
}

/// A key box that is a button, with a word before it where there is one. Right-aligned; returns its response and
/// its left edge.
pub fn key_button(ui: &Ui, right_center: Pos2, word: &str, hot: Hot, name: &str, enabled: bool) -> (Response, f32) {
    let p = theme::palette(ui);
    let key = key_box_width(ui, hot.face);
    let words = if word.is_empty() { 0.0 } else { text::width_of(ui, word, Size::Label, Cut::Regular) + S8 };
    let rect = Align2::RIGHT_CENTER.anchor_size(right_center, vec2(words + key, S24));
    let sense = if enabled { eframe::egui::Sense::click() } else { eframe::egui::Sense::hover() };
    let response = ui.interact(rect, ui.id().with(("key button", name)), sense);
    response.widget_info(|| eframe::egui::WidgetInfo::labeled(eframe::egui::WidgetType::Button, enabled, name));
    if response.has_focus() {
        keys::note(ui.ctx(), response.id, Held::Button);
    }
    let ink = if enabled && response.hovered() { p.bronze } else { p.ink_second };
    text::paint(ui.painter(), rect.left_center(), Align2::LEFT_CENTER, word, Size::Label, Cut::Regular, ink);
    key_box(ui, pos2(rect.right() - key, rect.center().y), hot.face, ink, if enabled { p.line } else { p.hairline });
    ring_focus(ui, &response, rect.expand2(vec2(S4 / 2.0, 0.0)));
    (response, rect.left())
}

/// A word that is a button, without a key of its own. Right-aligned.
pub fn word_button(ui: &Ui, right_center: Pos2, word: &str, name: &str) -> Response {
    let p = theme::palette(ui);
    let size = vec2(text::width_of(ui, word, Size::Label, Cut::Regular), S24);
    let rect = Align2::RIGHT_CENTER.anchor_size(right_center, size);
    let response = ui.interact(rect, ui.id().with(("word button", name)), eframe::egui::Sense::click());
    response.widget_info(|| eframe::egui::WidgetInfo::labeled(eframe::egui::WidgetType::Button, true, name));
    if response.has_focus() {
        keys::note(ui.ctx(), response.id, Held::Button);
    }
    let ink = if response.hovered() { p.bronze } else { p.ink_second };
    text::paint(ui.painter(), rect.left_center(), Align2::LEFT_CENTER, word, Size::Label, Cut::Regular, ink);
    ring_focus(ui, &response, rect.expand2(vec2(S4 / 2.0, 0.0)));
    response
}
