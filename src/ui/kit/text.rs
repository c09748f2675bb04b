//! Text: labels that flow, and text painted at a place.

use std::sync::Arc;

use eframe::egui::text::{LayoutJob, TextWrapping};
use eframe::egui::{
    Align2, Color32, Galley, Label, Painter, Pos2, Rect, Response, Sense, Ui, Vec2, WidgetInfo, WidgetType, accesskit,
};

use crate::ui::theme::{self, Cut, Size};

/// A label that wraps at the width there is.
pub fn label(ui: &mut Ui, text: &str, size: Size, cut: Cut, color: Color32) -> Response {
    ui.add(Label::new(job(text, size, cut, color)).wrap())
}

/// A label in at most this width.
pub fn label_in(ui: &mut Ui, width: f32, text: &str, size: Size, cut: Cut, color: Color32) -> Response {
    ui.scope(|ui| {
        ui.set_max_width(width.min(ui.available_width()));
        label(ui, text, size, cut, color)
    })
    .inner
}

/// A heading: a label that assistive technology finds as one.
pub fn heading(ui: &mut Ui, text: &str, size: Size, cut: Cut) -> Response {
    let color = theme::palette(ui).ink;
    let response = label(ui, text, size, cut, color);
    let text = text.to_owned();
    ui.ctx().accesskit_node_builder(response.id, |node| {
        node.set_role(accesskit::Role::Heading);
        node.clear_value();
        node.set_label(text);
    });
    response
}

/// Paints one line at a place; returns where it stands. For text inside of a widget that has a name.
pub fn paint(painter: &Painter, at: Pos2, anchor: Align2, text: &str, size: Size, cut: Cut, color: Color32) -> Rect {
    let galley = painter.layout_job(job(text, size, cut, color));
    let rect = anchor.anchor_size(at, galley.size());
    painter.galley(rect.min, galley, color);
    rect
}

/// Paints one line inside of a rectangle, cut short with `…` where it does not fit, and gives it a name.
pub fn paint_in(ui: &Ui, rect: Rect, anchor: Align2, text: &str, size: Size, cut: Cut, color: Color32) -> Rect {
    let galley = lines(ui, text, rect.width(), 1, size, cut, color);
    let place = anchor.align_size_within_rect(galley.size(), rect);
    let elided = galley.elided;
    ui.painter().galley(place.min, galley, color);
    let id = ui.id().with(("painted", text, rect.left() as i32));
    let response = ui.interact(place, id, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, text));
    if elided {
        response.on_hover_text(text);
    }
    place
}

/// Lays out text in a width and at most so many lines.
pub fn lines(ui: &Ui, text: &str, width: f32, max_rows: usize, size: Size, cut: Cut, color: Color32) -> Arc<Galley> {
    let mut job = job(text, size, cut, color);
    job.wrap = TextWrapping {
        max_width: width.max(1.0),
        max_rows,
        break_anywhere: max_rows == 1,
        overflow_character: Some('…'),
    };
    ui.painter().layout_job(job)
}

/// The width of one line.
pub fn width_of(ui: &Ui, text: &str, size: Size, cut: Cut) -> f32 {
    size_of(ui, text, size, cut).x
}

pub(super) fn size_of(ui: &Ui, text: &str, size: Size, cut: Cut) -> Vec2 {
    ui.painter().layout_job(job(text, size, cut, Color32::PLACEHOLDER)).size()
}

/// One run of text, to be laid out.
pub fn job(text: &str, size: Size, cut: Cut, color: Color32) -> LayoutJob {
    LayoutJob::single_section(text.to_owned(), theme::format(size, cut, color))
}
