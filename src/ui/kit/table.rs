//! Rows in columns: one row is one thing with one accessible name.

use eframe::egui::{Align2, CursorIcon, Rect, Response, Sense, Ui, WidgetInfo, WidgetType, pos2, vec2};

use crate::present::Tone;
use crate::ui::keys::{self, Held};
use crate::ui::kit::mark::{Mark, mark, ring_focus};
use crate::ui::kit::text;
use crate::ui::theme::measure::{MARK, S4, S8, S24};
use crate::ui::theme::{self, Cut, Size};

/// A column: how wide, and to which side its text stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Column {
    /// Text, a fixed width.
    Text(f32),
    /// Figures, right-aligned, a fixed width.
    Figure(f32),
    /// Text, a share of what the fixed ones leave.
    Share(f32),
}

/// What stands in a column of a row.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    /// Text of the cell.
    pub text: String,
    /// Tone of the text.
    pub tone: Tone,
    /// In the figures' face.
    pub mono: bool,
    /// Semibold.
    pub strong: bool,
    /// A mark before it.
    pub mark: Option<Mark>,
}

impl Cell {
    /// Ordinary text.
    pub fn text(text: impl Into<String>) -> Self {
        Self { text: text.into(), tone: Tone::Plain, mono: false, strong: false, mark: None }
    }

    /// Text of second rank.
    pub fn quiet(text: impl Into<String>) -> Self {
        Self { tone: Tone::Quiet, ..Self::text(text) }
    }

    /// A figure.
    pub fn figure(text: impl Into<String>) -> Self {
        Self { mono: true, ..Self::text(text) }
    }

    /// With a tone.
    pub fn toned(mut self, tone: Tone) -> Self {
        self.tone = tone;
        self
    }

    /// With a mark before it.
    pub fn marked(mut self, mark: Option<Mark>) -> Self {
        self.mark = mark;
        self
    }
}

/// The left edge and the width of every column, over a width.
pub fn columns_of(columns: &[Column], width: f32) -> Vec<(f32, f32)> {
    let gaps = S24 * columns.len().saturating_sub(1) as f32;
    let fixed: f32 = columns.iter().map(|c| if let Column::Text(w) | Column::Figure(w) = c { *w } else { 0.0 }).sum();
    let shares: f32 = columns.iter().map(|c| if let Column::Share(s) = c { *s } else { 0.0 }).sum();
    let left_over = (width - fixed - gaps).max(0.0);
    let squeeze = if fixed + gaps > width { ((width - gaps) / fixed.max(1.0)).max(0.1) } else { 1.0 };
    let mut x = 0.0;
    let place = |column: &Column| {
        let w = match column {
            Column::Text(w) | Column::Figure(w) => w * squeeze,
            Column::Share(s) => left_over * s / shares,
        };
        let at = (x, w);
        x += w + S24;
        at
    };
    columns.iter().map(place).collect()
}

/// The names of the columns over a line.
pub fn head_row(ui: &mut Ui, columns: &[Column], names: &[&str]) {
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), S24 + S4));
    let p = theme::palette(ui);
    for ((column, (x, w)), name) in columns.iter().zip(columns_of(columns, rect.width())).zip(names) {
        let place = Rect::from_min_size(pos2(rect.left() + x, rect.top()), vec2(w, S24));
        let anchor = if matches!(column, Column::Figure(_)) { Align2::RIGHT_CENTER } else { Align2::LEFT_CENTER };
        text::paint_in(ui, place, anchor, name, Size::Small, Cut::Regular, p.ink_second);
    }
    ui.painter().hline(rect.x_range(), ui.painter().round_to_pixel_center(rect.bottom() - 1.0), theme::hairline(ui));
}

/// One row. `opens` makes it a button; `current` marks it as the chosen one. `name` is its accessible name.
pub fn row(
    ui: &mut Ui,
    columns: &[Column],
    cells: &[Cell],
    height: f32,
    (opens, current): (bool, bool),
    name: &str,
) -> Response {
    let (id, rect) = ui.allocate_space(vec2(ui.available_width(), height));
    let response = ui.interact(rect, id, if opens { Sense::click() } else { Sense::hover() });
    let kind = if opens { WidgetType::Button } else { WidgetType::Label };
    response.widget_info(|| WidgetInfo::labeled(kind, true, name));
    if response.has_focus() {
        keys::note(ui.ctx(), response.id, Held::Button);
    }
    if !ui.is_rect_visible(rect) {
        ring_focus(ui, &response, rect);
        return response;
    }
    let p = theme::palette(ui);
    if current || (opens && response.hovered()) {
        ui.painter().rect_filled(rect.expand2(vec2(S8, 0.0)), 0, p.raised);
    }
    if current {
        let bar = Rect::from_min_size(rect.min - vec2(S8 + MARK, 0.0), vec2(MARK, height));
        ui.painter().rect_filled(bar, 0, p.bronze);
    }
    for ((column, (x, w)), cell) in columns.iter().zip(columns_of(columns, rect.width())).zip(cells) {
        let mut place = Rect::from_min_size(pos2(rect.left() + x, rect.top()), vec2(w, height));
        let color = theme::tone(ui, cell.tone);
        if let Some(m) = cell.mark {
            mark(ui.painter(), pos2(place.left() + S8, place.center().y), m, color);
            place.min.x += S24;
        }
        let anchor = if matches!(column, Column::Figure(_)) { Align2::RIGHT_CENTER } else { Align2::LEFT_CENTER };
        let cut = match (cell.mono, cell.strong) {
            (true, _) => Cut::Mono,
            (false, true) => Cut::Semi,
            (false, false) => Cut::Regular,
        };
        let galley = text::lines(ui, &cell.text, place.width(), 1, Size::Label, cut, color);
        ui.painter().galley(anchor.align_size_within_rect(galley.size(), place).min, galley, color);
    }
    ui.painter().hline(rect.x_range(), ui.painter().round_to_pixel_center(rect.bottom() - 1.0), theme::hairline(ui));
    ring_focus(ui, &response, rect.expand2(vec2(S4, -2.0)));
    if opens { response.on_hover_cursor(CursorIcon::PointingHand) } else { response }
}
