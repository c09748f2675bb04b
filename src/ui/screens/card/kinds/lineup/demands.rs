//! What a line-up must do, row by row, with what the check found of it: met or not, and why not.

use std::sync::Arc;

use eframe::egui::{Align2, Galley, Rect, Sense, Ui, WidgetInfo, WidgetType, accesskit, pos2, vec2};

use crate::present::kinds::lineup::DemandView;
use crate::ui::kit::{self, Mark, Room, mark, paint};
use crate::ui::theme::measure::{DEMAND_ROW, DEMAND_ROW_LOW, LINE, S4, S8, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// The list's name.
pub(super) const NAME: &str = "What the line-up must do";

/// Demands with what the check found of each, where there was one.
pub(super) type Found<'a> = Vec<(&'a str, Option<&'a DemandView>)>;

/// The height of a row; in a low window they stand closer.
fn row_height(ui: &Ui) -> f32 {
    if kit::room(ui.ctx()) == Room::Full { DEMAND_ROW } else { DEMAND_ROW_LOW }
}

/// In a low window there are two rows beside one another.
fn columns(ui: &Ui, width: f32) -> (usize, f32) {
    match kit::room(ui.ctx()) {
        Room::Folded => (2, (width - S24) / 2.0),
        Room::Full | Room::Tiny => (1, width),
    }
}

/// How high the rows are at this width.
pub(super) fn height(ui: &Ui, demands: &Found<'_>, width: f32) -> f32 {
    let (columns, width) = columns(ui, width);
    let rows: Vec<f32> = demands.iter().map(|(name, found)| Row::of(ui, name, *found, width).height).collect();
    rows.chunks(columns).map(|row| row.iter().copied().fold(0.0, f32::max)).sum::<f32>() + LINE
}

/// Draws the rows.
pub(super) fn rows_ui(ui: &mut Ui, demands: &Found<'_>) {
    kit::list(ui, NAME, demands.len());
    let (columns, width) = columns(ui, ui.available_width());
    for (n, beside) in demands.chunks(columns).enumerate() {
        let rows: Vec<Row<'_>> = beside.iter().map(|(name, found)| Row::of(ui, name, *found, width)).collect();
        let high = rows.iter().map(|row| row.height).fold(0.0, f32::max);
        let (_, place) = ui.allocate_space(vec2(ui.available_width(), high));
        for (m, row) in rows.into_iter().enumerate() {
            let at = pos2(place.left() + m as f32 * (width + S24), place.top());
            row.show(ui, Rect::from_min_size(at, vec2(width, high)), (n * columns + m + 1, demands.len()));
        }
    }
    kit::list_rule(ui);
}

/// Reasons stand one under the other from here, as far as names leave the room.
const REASON: f32 = 248.0;

/// From a row's left edge to the demand's name.
const INDENT: f32 = S24 + S4;

/// A demand laid out.
struct Row<'a> {
    name: &'a str,
    found: Option<&'a DemandView>,
    word: &'static str,
    reason: &'a str,
    words: Arc<Galley>,
    /// The reason under the name, where there is no room for it beside.
    below: Option<Arc<Galley>>,
    name_wide: f32,
    reason_wide: f32,
    /// The width of the state.
    state: f32,
    height: f32,
}

impl<'a> Row<'a> {
    fn of(ui: &Ui, name: &'a str, found: Option<&'a DemandView>, width: f32) -> Self {
        let p = theme::palette(ui);
        let word = found.map_or("", |found| if found.met { "met" } else { "not met" });
        let reason = found.map_or("", |found| found.reason.as_str());
        let wide = |text: &str| kit::width_of(ui, text, Size::Label, Cut::Regular);
        let (name_wide, reason_wide, state) = (wide(name), wide(reason), wide(word));
        let room = width - INDENT - state - S16;
        let beside = name_wide + S16 + reason_wide <= room;
        let words = kit::lines(ui, name, room, 3, Size::Label, Cut::Regular, p.ink);
        let below = (!beside && !reason.is_empty())
            .then(|| kit::lines(ui, reason, width - INDENT, 4, Size::Label, Cut::Regular, p.ink_second));
        let text = words.size().y + below.as_ref().map_or(0.0, |lines| lines.size().y);
        Self {
            name,
            found,
            word,
            reason,
            words,
            below,
            name_wide,
            reason_wide,
            state,
            height: row_height(ui).max(text + row_height(ui) - theme::line_height(Size::Label)),
        }
    }

    /// Draws it; `place` is its number in the list, from 1, of how many.
    fn show(self, ui: &Ui, rect: Rect, place: (usize, usize)) {
        let p = theme::palette(ui);
        let response = ui.interact(rect, ui.id().with(("demand", place.0)), Sense::hover());
        let said = match (self.word, self.reason) {
            ("", _) => self.name.to_owned(),
            (word, "") => format!("{}: {word}", self.name),
            (word, reason) => format!("{}: {word}, {reason}", self.name),
        };
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
        ui.ctx().accesskit_node_builder(response.id, |node| {
            node.set_position_in_set(place.0);
            node.set_size_of_set(place.1);
            node.set_live(accesskit::Live::Polite);
        });
        let y = ui.painter().round_to_pixel_center(rect.top());
        ui.painter().hline(rect.x_range(), y, theme::hairline(ui));
        let first = rect.top() + row_height(ui) / 2.0;
        let met = self.found.is_some_and(|found| found.met);
        let (shape, color) = if met { (Mark::Tick, p.sea) } else { (Mark::Cross, p.red_lead) };
        if self.found.is_some() {
            mark(ui.painter(), pos2(rect.left() + S8, first), shape, color);
        }
        let end = pos2(rect.right(), first);
        paint(ui.painter(), end, Align2::RIGHT_CENTER, self.word, Size::Label, Cut::Regular, color);
        let at = pos2(rect.left() + INDENT, first - theme::line_height(Size::Label) / 2.0);
        let below = pos2(at.x, at.y + self.words.size().y);
        ui.painter().galley(at, self.words, p.ink);
        match self.below {
            Some(lines) => {
                ui.painter().galley(below, lines, p.ink_second);
            }
            None => {
                let column = rect.left() + REASON.min(rect.width() - self.state - S16 - self.reason_wide);
                let at = pos2(column.max(at.x + self.name_wide + S16), first);
                paint(ui.painter(), at, Align2::LEFT_CENTER, self.reason, Size::Label, Cut::Regular, p.ink_second);
            }
        }
    }
}
