//! The rows of a worksheet: numbers at the left, expressions, results right-aligned at one column with their units
//! beside them, what is wrong under its line; and the answer.

use std::sync::Arc;

use eframe::egui::{
    Align2, Color32, Galley, Rect, Response, Sense, Ui, UiBuilder, WidgetInfo, WidgetType, accesskit, pos2, vec2,
};

use crate::present::Tone;
use crate::present::worksheet::{LineResult, ValueView, WorksheetView};
use crate::ui::keys;
use crate::ui::kit::{self, Expression, Field, Mark, Room, heading, mark, paint, room};
use crate::ui::screens::worksheet::lines::{Spot, WorksheetLocal, answer_id, line_id, result_name};
use crate::ui::theme::measure::{
    ANSWER, ANSWER_ROW, LINE, LIST_ROW, RESULTS, S4, S8, S12, S16, S24, S40, TABLE_ROW, UNITS,
};
use crate::ui::theme::{self, Cut, Size};

/// The columns of a worksheet's rows, from the row's left edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Places {
    /// Where expressions begin.
    pub(crate) expression: f32,
    /// Where expressions must end.
    pub(crate) ends: f32,
    /// Where numbers end.
    pub(crate) number: f32,
    /// Where units begin.
    pub(crate) unit: f32,
    /// The height of a row.
    pub(crate) row: f32,
}

impl Places {
    /// Columns over a width that hold these values.
    pub(crate) fn of<'a>(ui: &Ui, width: f32, values: impl Iterator<Item = &'a ValueView>) -> Self {
        let (mut numbers, mut units) = (RESULTS, UNITS);
        for value in values {
            numbers = numbers.max(kit::width_of(ui, &value.number, Size::Body, Cut::Mono));
            units = units.max(kit::width_of(ui, &value.unit, Size::Body, Cut::Regular));
        }
        let units = units.min(width * 0.3).ceil();
        let numbers = numbers.min(width * 0.3).ceil();
        let unit = width - units;
        let number = unit - S12;
        Self {
            expression: S40,
            ends: number - numbers - S12,
            number,
            unit,
            row: if room(ui.ctx()) == Room::Full { TABLE_ROW } else { LIST_ROW },
        }
    }

    /// Paints a value in its columns, about the middle of a row.
    pub(crate) fn value(&self, ui: &Ui, row: Rect, middle: f32, value: &ValueView, color: Color32) {
        let p = theme::palette(ui);
        let number = kit::lines(ui, &value.number, self.number - self.ends, 1, Size::Body, Cut::Mono, color);
        let at = pos2(row.left() + self.number, middle);
        ui.painter().galley(Align2::RIGHT_CENTER.anchor_size(at, number.size()).min, number, color);
        let unit = kit::lines(
            ui,
            &value.unit,
            row.right() - row.left() - self.unit,
            1,
            Size::Body,
            Cut::Regular,
            p.ink_second,
        );
        let at = pos2(row.left() + self.unit, middle);
        ui.painter().galley(Align2::LEFT_CENTER.anchor_size(at, unit.size()).min, unit, p.ink_second);
    }

    /// An expression laid out for its column, over as many rows as it takes.
    pub(crate) fn written(&self, ui: &Ui, text: &str, color: Color32) -> Arc<Galley> {
        let mut job = kit::expression_job(text, Size::Body, color, false);
        job.wrap.max_width = (self.ends - self.expression).max(1.0);
        ui.painter().layout_job(job)
    }
}

/// The head over the lines.
pub(crate) fn head_ui(ui: &mut Ui, name: &str, note: &str) {
    let p = theme::palette(ui);
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), S24 + S4));
    let mut child = ui.new_child(UiBuilder::new().id_salt(("worksheet head", name)).max_rect(rect));
    let head = heading(&mut child, name, Size::Label, Cut::Semi);
    let left = Rect::from_min_max(pos2(head.rect.right() + S16, rect.top()), pos2(rect.right(), head.rect.bottom()));
    if !note.is_empty() && left.width() > S40 {
        let galley = kit::lines(ui, note, left.width(), 1, Size::Label, Cut::Regular, p.ink_second);
        ui.painter().galley(Align2::RIGHT_CENTER.align_size_within_rect(galley.size(), left).min, galley, p.ink_second);
    }
    rule(ui, rect, false);
}

/// The line under a row; the last one of a sheet is drawn stronger.
pub(crate) fn rule(ui: &Ui, rect: Rect, strong: bool) {
    let y = ui.painter().round_to_pixel_center(rect.bottom() - LINE);
    ui.painter().hline(rect.x_range(), y, if strong { theme::line(ui) } else { theme::hairline(ui) });
}

/// The lines in their fields.
pub(crate) fn lines_ui(ui: &mut Ui, view: &WorksheetView, local: &mut WorksheetLocal) {
    let focused = local.focused(ui);
    let values = view.lines.iter().filter_map(|l| l.result.value());
    let places = Places::of(ui, ui.available_width(), values);
    head_ui(ui, "Worksheet", "evaluated as typed");
    let count = local.lines().len();
    for at in 0..count {
        line_ui(ui, view, local, &places, (at, count), focused);
    }
}

fn line_ui(
    ui: &mut Ui,
    view: &WorksheetView,
    local: &mut WorksheetLocal,
    places: &Places,
    (at, count): (usize, usize),
    focused: Option<Spot>,
) {
    let p = theme::palette(ui);
    let here = focused == Some(Spot::Line(at));
    let result = local.result(view, at).clone();
    let wrong = match &result {
        LineResult::Wrong { words, place, follows } if local.rests(ui, at, focused) => {
            Some((words, place.clone().filter(|_| !follows), if *follows { Tone::Quiet } else { Tone::Bad }))
        }
        _ => None,
    };
    let (id, row) = ui.allocate_space(vec2(ui.available_width(), places.row));
    if here {
        let bar = row.expand2(vec2(S8, 0.0));
        ui.painter().rect_filled(bar.with_max_y(row.bottom() - LINE), 0, p.raised);
        ui.painter().rect_filled(Rect::from_min_size(bar.min, vec2(S4, row.height() - LINE)), 0, p.bronze);
    }
    let middle = row.center().y;
    let number = (at + 1).to_string();
    paint(ui.painter(), pos2(row.left(), middle), Align2::LEFT_CENTER, &number, Size::Label, Cut::Mono, p.ink_second);
    let place = Rect::from_min_max(
        pos2(row.left() + places.expression, row.top()),
        pos2(row.left() + places.ends, row.bottom() - LINE),
    );
    let name = format!("Line {}", at + 1);
    let hint = if at == 0 { "name = expression" } else { "" };
    let line = &mut local.lines()[at];
    let field = Expression {
        id: line_id(line),
        name: &name,
        hint,
        wrong: wrong.as_ref().and_then(|(_, place, _)| place.clone()),
    };
    let response = kit::expression_field(ui, place, &field, &mut line.text);
    if response.changed() {
        local.touched(ui, at);
    }
    if here && local.looks() {
        ui.scroll_to_rect(row, None);
    }
    match &result {
        LineResult::Value(value) => {
            places.value(ui, row, middle, value, p.ink);
            let shown = Rect::from_min_max(pos2(row.left() + places.ends, row.top()), row.max);
            named(ui, shown, id, &result_name(at + 1, value), false);
        }
        LineResult::Pending => {
            let at = pos2(row.left() + places.number, middle);
            paint(ui.painter(), at, Align2::RIGHT_CENTER, "…", Size::Body, Cut::Mono, p.ink_second);
        }
        LineResult::Nothing | LineResult::Wrong { .. } => {}
    }
    let mut whole = row;
    let note = local.note(view, at).to_owned();
    if let Some((words, _, tone)) = wrong {
        whole.max.y = under_ui(ui, row, places, at + 1, (words, tone)).bottom();
    } else if !note.is_empty() && local.rests(ui, at, focused) {
        whole.max.y = under_ui(ui, row, places, at + 1, (&note, Tone::Quiet)).bottom();
    }
    rule(ui, whole, at + 1 == count);
}

/// What is wrong with a line, or to be noted of it, under it.
fn under_ui(ui: &mut Ui, row: Rect, places: &Places, number: usize, (words, tone): (&str, Tone)) -> Rect {
    let color = theme::tone(ui, tone);
    let left = places.expression;
    let indent = if tone == Tone::Bad { S16 } else { 0.0 };
    let galley = kit::lines(ui, words, row.width() - left - indent, 3, Size::Label, Cut::Regular, color);
    let (id, rect) = ui.allocate_space(vec2(row.width(), galley.size().y + S8));
    let first = rect.top() + theme::line_height(Size::Label) / 2.0;
    if tone == Tone::Bad {
        mark(ui.painter(), pos2(rect.left() + left + S4, first), Mark::WedgeDown, color);
    }
    ui.painter().galley(pos2(rect.left() + left + indent, rect.top()), galley, color);
    named(ui, rect, id, &format!("Line {number}: {words}"), true);
    rect
}

/// Gives a painted part of the page its accessible name; `live` has it read out when it comes.
pub(crate) fn named(ui: &Ui, rect: Rect, id: eframe::egui::Id, name: &str, live: bool) -> Response {
    let response = ui.interact(rect, id, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, name));
    if live {
        ui.ctx().accesskit_node_builder(response.id, |node| node.set_live(accesskit::Live::Polite));
    }
    response
}

/// The answer: its field, and a line's value taken over into it.
pub(crate) fn answer_ui(ui: &mut Ui, view: &WorksheetView, local: &mut WorksheetLocal, hint: &str) {
    let p = theme::palette(ui);
    let focused = local.focused(ui);
    let takeable = local.takeable(view, focused).map(|(at, value)| (at, value.clone()));
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), ANSWER_ROW));
    let word = paint(ui.painter(), rect.left_center(), Align2::LEFT_CENTER, "Answer", Size::Body, Cut::Semi, p.ink);
    let least = word.right() + S16;
    let field = Rect::from_min_max(pos2((rect.right() - ANSWER).max(least), rect.top() + S8), rect.max);
    let mut child = ui.new_child(UiBuilder::new().id_salt("answer").max_rect(field));
    let spec = Field { mono: true, hint: "with its unit", ..Field::line(answer_id(), "Answer", field.width()) };
    kit::field(&mut child, &spec, &mut local.answer);
    let whole = rect.with_max_y(rect.bottom() + if hint.is_empty() { 0.0 } else { S24 });
    if focused == Some(Spot::Answer) && local.looks() {
        ui.scroll_to_rect(whole, None);
    }
    if let Some((at, value)) = takeable {
        let name = format!("Take line {} as the answer", at + 1);
        let short = format!("Take line {}", at + 1);
        let (word, right) = if field.left() - least > S40 * 5.0 {
            (short.as_str(), field.left() - S16)
        } else {
            ("", field.left() - S8)
        };
        if right - least > S24 {
            let (response, _) = kit::key_button(ui, pos2(right, rect.center().y), word, keys::CTRL_T, &name, true);
            if response.clicked() {
                local.take(&value);
            }
        }
    }
    if !hint.is_empty() {
        kit::label(ui, hint, Size::Label, Cut::Regular, p.ink_second);
    }
}
