//! Actions: the one primary button, and the quieter ones beside it, each with its key shown.

use eframe::egui::{
    Align2, CornerRadius, CursorIcon, Rect, Response, Sense, Stroke, StrokeKind, Ui, WidgetInfo, WidgetType, pos2, vec2,
};

use crate::ui::keys::{self, Held, Hot};
use crate::ui::kit::mark::{key_box, key_box_width, ring_focus};
use crate::ui::kit::text;
use crate::ui::theme::measure::{CORNER, ITEM, LINE, S8, S16};
use crate::ui::theme::{self, Cut, Size};

/// An action of a screen: what it is called, its key, what it comes to.
pub struct Act<T> {
    /// Name of the action.
    pub name: &'static str,
    /// Key of the action.
    pub hot: Option<Hot>,
    /// The one primary action.
    pub primary: bool,
    /// Drawn as a button with a border: what will be the primary action in a moment.
    pub outlined: bool,
    /// Whether it can be done now.
    pub enabled: bool,
    /// What it comes to.
    pub value: T,
}

impl<T> Act<T> {
    /// The primary action.
    pub fn primary(name: &'static str, hot: Hot, value: T) -> Self {
        Self { name, hot: Some(hot), primary: true, outlined: false, enabled: true, value }
    }

    /// Another action.
    pub fn other(name: &'static str, hot: Hot, value: T) -> Self {
        Self { name, hot: Some(hot), primary: false, outlined: false, enabled: true, value }
    }

    /// A button with a border: what will be the primary action in a moment.
    pub fn outlined(name: &'static str, hot: Hot, value: T) -> Self {
        Self { name, hot: Some(hot), primary: false, outlined: true, enabled: true, value }
    }

    fn look(&self) -> Look {
        match (self.primary, self.outlined) {
            (true, _) => Look::Primary,
            (false, true) => Look::Outlined,
            (false, false) => Look::Quiet,
        }
    }

    /// The action with what it comes to made into something else.
    pub fn map<U>(self, into: impl FnOnce(T) -> U) -> Act<U> {
        let Self { name, hot, primary, outlined, enabled, value } = self;
        Act { name, hot, primary, outlined, enabled, value: into(value) }
    }

    /// The action, only possible under a condition.
    pub fn when(mut self, enabled: bool) -> Self {
        self.enabled = enabled;
        self
    }

    pub(super) fn width(&self, ui: &Ui) -> f32 {
        width(ui, self.name, self.hot, self.look())
    }

    /// Draws it at a place; true when it was pressed by mouse or, focused, by key.
    pub(super) fn show(&self, ui: &Ui, rect: Rect) -> bool {
        button_at(ui, rect, self.name, self.hot, self.look(), self.enabled).clicked()
    }
}

/// How an action is drawn.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Look {
    Primary,
    Outlined,
    Quiet,
}

fn width(ui: &Ui, name: &str, hot: Option<Hot>, kind: Look) -> f32 {
    let (size, cut, pad, gap) = look(kind);
    let key = hot.map_or(0.0, |h| gap + key_box_width(ui, h.face));
    (text::width_of(ui, name, size, cut) + key + 2.0 * pad).ceil()
}

fn look(kind: Look) -> (Size, Cut, f32, f32) {
    match kind {
        Look::Primary => (Size::Body, Cut::Semi, S16, S16),
        Look::Outlined => (Size::Body, Cut::Regular, S16, S16),
        Look::Quiet => (Size::Label, Cut::Regular, 0.0, S8),
    }
}

/// A button in the flow.
pub fn button(ui: &mut Ui, name: &str, hot: Option<Hot>, primary: bool, enabled: bool) -> Response {
    if let Some(hot) = hot {
        keys::offer(ui.ctx(), hot, name);
    }
    let kind = if primary { Look::Primary } else { Look::Quiet };
    let size = vec2(width(ui, name, hot, kind), ITEM);
    let (_, rect) = ui.allocate_space(size);
    button_at(ui, rect, name, hot, kind, enabled)
}

fn button_at(ui: &Ui, rect: Rect, name: &str, hot: Option<Hot>, kind: Look, enabled: bool) -> Response {
    let sense = if enabled { Sense::click() } else { Sense::hover() };
    let response = ui.interact(rect, ui.id().with(("act", name)), sense);
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, enabled, name));
    if response.has_focus() {
        keys::note(ui.ctx(), response.id, Held::Button);
    }
    let p = theme::palette(ui);
    let (size, cut, pad, gap) = look(kind);
    let (fill, ink, line) = match (kind == Look::Primary, enabled) {
        (_, true) if kind == Look::Outlined => (response.hovered().then_some(p.raised), p.ink, p.line),
        (true, true) if response.hovered() => (Some(p.bronze.lerp_to_gamma(p.ink, 0.15)), p.on_accent, p.on_accent),
        (true, true) => (Some(p.bronze), p.on_accent, p.on_accent),
        (true, false) => (Some(p.raised), p.ink_second, p.line),
        (false, true) if response.hovered() => (None, p.ink, p.ink),
        (false, _) => (None, p.ink_second, p.line),
    };
    if let Some(fill) = fill {
        ui.painter().rect_filled(rect, CornerRadius::same(CORNER), fill);
    }
    if kind == Look::Outlined {
        let border = if enabled { p.line } else { p.hairline };
        let stroke = Stroke::new(LINE, border);
        ui.painter().rect_stroke(rect, CornerRadius::same(CORNER), stroke, StrokeKind::Inside);
    }
    let at = pos2(rect.left() + pad, rect.center().y);
    let placed = text::paint(ui.painter(), at, Align2::LEFT_CENTER, name, size, cut, ink);
    if let Some(hot) = hot.filter(|hot| keys::works(ui.ctx(), *hot)) {
        key_box(ui, pos2(placed.right() + gap, rect.center().y), hot.face, ink, line);
    }
    let ring = if kind != Look::Quiet { rect } else { rect.shrink2(vec2(-S8 / 2.0, S8)) };
    ring_focus(ui, &response, ring);
    if enabled { response.on_hover_cursor(CursorIcon::PointingHand) } else { response }
}

/// A quiet button of one line's height with its key, such as `Keys ?` in the head. Right-aligned at a place;
/// returns the response and its left edge.
pub fn link(ui: &Ui, right_center: eframe::egui::Pos2, name: &str, hot: Hot) -> (Response, f32) {
    keys::offer(ui.ctx(), hot, name);
    let p = theme::palette(ui);
    let key = key_box_width(ui, hot.face);
    let words = text::width_of(ui, name, Size::Label, Cut::Regular);
    let rect = Align2::RIGHT_CENTER.anchor_size(right_center, vec2(words + S8 + key, ITEM - S8));
    let response = ui.interact(rect, ui.id().with(("link", name)), Sense::click());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, name));
    if response.has_focus() {
        keys::note(ui.ctx(), response.id, Held::Button);
    }
    let ink = if response.hovered() { p.bronze } else { p.ink };
    text::paint(ui.painter(), rect.left_center(), Align2::LEFT_CENTER, name, Size::Label, Cut::Regular, ink);
    if keys::works(ui.ctx(), hot) {
        key_box(ui, pos2(rect.right() - key, rect.center().y), hot.face, p.ink_second, p.line);
    }
    ring_focus(ui, &response, rect.expand2(vec2(S8 / 2.0, 0.0)));
    (response.on_hover_cursor(CursorIcon::PointingHand), rect.left())
}
