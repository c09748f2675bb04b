//! Fields for typing.

use eframe::egui::{
    CornerRadius, Frame, Id, Margin, Response, Stroke, StrokeKind, TextBuffer, TextEdit, Ui, Vec2, WidgetText,
    accesskit, vec2,
};

use crate::ui::keys::{self, Held};
use crate::ui::theme::measure::{CORNER, FOCUS, ITEM, LINE, S8, S12};
use crate::ui::theme::{self, Cut, Size};

/// A field for typing.
pub struct Field<'a> {
    /// Accessible name of the field.
    pub name: &'a str,
    /// What stands in it while it is empty.
    pub hint: &'a str,
    /// Width of the field, in points.
    pub width: f32,
    /// Rows of text; more than one lets Enter begin a new line.
    pub rows: usize,
    /// In the figures' face.
    pub mono: bool,
    /// Room kept free at the right for what the caller paints there.
    pub room_right: f32,
    /// Id of the field, so that a screen can give it the focus.
    pub id: Id,
}

impl<'a> Field<'a> {
    /// A field of one line.
    pub fn line(id: Id, name: &'a str, width: f32) -> Self {
        Self { name, hint: "", width, rows: 1, mono: false, room_right: 0.0, id }
    }
}

/// The height of a field of so many rows.
pub fn field_height(ui: &Ui, rows: usize, mono: bool) -> f32 {
    let font = theme::font(Size::Body, if mono { Cut::Mono } else { Cut::Regular });
    let row = ui.fonts_mut(|f| f.row_height(&font));
    if rows == 1 { ITEM } else { row * rows as f32 + 2.0 * S8 }
}

/// Draws a field in the flow.
pub fn field(ui: &mut Ui, spec: &Field<'_>, text: &mut String) -> Response {
    edit_ui(ui, spec, text)
}

fn edit_ui(ui: &mut Ui, spec: &Field<'_>, text: &mut dyn TextBuffer) -> Response {
    let p = theme::palette(ui);
    let cut = if spec.mono { Cut::Mono } else { Cut::Regular };
    let font = theme::font(Size::Body, cut);
    let row = ui.fonts_mut(|f| f.row_height(&font));
    let height = field_height(ui, spec.rows, spec.mono);
    let (_, rect) = ui.allocate_space(vec2(spec.width.min(ui.available_width()), height));
    let focused = ui.memory(|m| m.has_focus(spec.id));
    ui.painter().rect_filled(rect, CornerRadius::same(CORNER), p.sheet);
    let stroke = if focused { Stroke::new(FOCUS, p.bronze) } else { Stroke::new(LINE, p.line) };
    ui.painter().rect_stroke(rect, CornerRadius::same(CORNER), stroke, StrokeKind::Inside);
    let top = if spec.rows == 1 { ((height - row) / 2.0).floor() } else { S8 };
    let mut inner = rect.shrink2(vec2(S12, top));
    inner.max.x -= spec.room_right;
    let hint = WidgetText::from(spec.hint).color(p.ink_second);
    let edit = if spec.rows == 1 { TextEdit::singleline(text) } else { TextEdit::multiline(text) };
    let edit = edit
        .id(spec.id)
        .frame(Frame::NONE)
        .margin(Margin::ZERO)
        .font(font)
        .text_color(p.ink)
        .hint_text(hint)
        .desired_width(inner.width())
        .desired_rows(spec.rows)
        .min_size(Vec2::new(inner.width(), row));
    let response = if spec.rows == 1 { ui.place(inner, edit) } else { scrolled(ui, inner, edit, spec.id) };
    if response.has_focus() {
        keys::note(ui.ctx(), spec.id, if spec.rows == 1 { Held::Line } else { Held::Text });
    }
    name_field(ui, spec);
    response
}

/// Draws a field whose text stands and cannot be changed now.
pub fn field_read(ui: &mut Ui, spec: &Field<'_>, text: &str) {
    if ui.memory(|m| m.has_focus(spec.id)) {
        ui.memory_mut(|m| m.surrender_focus(spec.id));
    }
    let mut still = text;
    // Text that is borrowed cannot be edited; without the focus there is no cursor in it.
    ui.add_enabled_ui(false, |ui| edit_ui(ui, spec, &mut still));
}

fn scrolled(ui: &mut Ui, inner: eframe::egui::Rect, edit: TextEdit<'_>, id: Id) -> Response {
    let builder = eframe::egui::UiBuilder::new().id_salt(("field-scroll", id)).max_rect(inner);
    let mut child = ui.new_child(builder);
    eframe::egui::ScrollArea::vertical()
        .id_salt(("field-scroll", id))
        .max_height(inner.height())
        .show(&mut child, |ui| ui.add(edit))
        .inner
}

fn name_field(ui: &Ui, spec: &Field<'_>) {
    let name = spec.name.to_owned();
    let multiline = spec.rows > 1;
    ui.ctx().accesskit_node_builder(spec.id, |node| {
        node.set_label(name);
        if multiline {
            node.set_role(accesskit::Role::MultilineTextInput);
        }
    });
}
