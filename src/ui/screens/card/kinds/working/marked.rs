//! A working after the marking: the learner's lines with how each stands against the method, the answer, what is to be
//! said of each try, and the method with this draw's values once it was asked for.

use eframe::egui::{Align2, Pos2, Rect, Ui, pos2, vec2};

use crate::present::Tone;
use crate::present::kinds::working::{MarkedLine, MethodLine, TryView, WorkingMarkedView};
use crate::present::worksheet::ValueView;
use crate::ui::kit::{self, Mark, label_in, mark, paint};
use crate::ui::screens::worksheet::rows::{Places, head_ui, named, rule};
use crate::ui::theme::measure::{ANSWER_ROW, LIST_ROW, READING, S4, S8, S12, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// The shape of a tone on this sheet.
fn shape(tone: Tone) -> Mark {
    match tone {
        Tone::Good => Mark::Tick,
        Tone::Bad => Mark::Cross,
        _ => Mark::WedgeDown,
    }
}

/// So many lines have room to be as high after the marking as before it.
const FEW: usize = 4;

/// What is to be brought into sight, because it has just come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum New {
    /// The verdict.
    Verdict,
    /// The model working.
    Method,
    /// Nothing.
    Nothing,
}

/// Draws all but what the answer comes to.
pub(super) fn marked_ui(ui: &mut Ui, view: &WorkingMarkedView, with_method: bool, new: New) {
    let values = view.lines.iter().filter_map(|l| l.value.as_ref());
    let of_method = view.method.iter().flatten().map(|l| &l.value);
    let mut places = Places::of(ui, ui.available_width(), values.chain(of_method));
    if view.lines.len() > FEW {
        places.row = places.row.min(LIST_ROW);
    }
    let name = if view.practice { "Worksheet, fresh figures" } else { "Worksheet" };
    if !view.lines.is_empty() {
        head_ui(ui, name, "");
        for (n, line) in view.lines.iter().enumerate() {
            line_ui(ui, &places, n + 1, line, n + 1 == view.lines.len());
        }
    }
    answer_ui(ui, &places, &view.answer);
    let top = ui.cursor().min;
    for one in &view.tries {
        try_ui(ui, one);
    }
    if let Some(expected) = &view.expected {
        let p = theme::palette(ui);
        label_in(ui, READING, &format!("The right answer: {expected}."), Size::Body, Cut::Regular, p.ink);
    }
    let width = ui.available_width();
    let since = |ui: &Ui, top: Pos2| Rect::from_min_max(top, pos2(top.x + width, ui.cursor().top()));
    if new == New::Verdict {
        ui.scroll_to_rect(since(ui, top), None);
    }
    if let Some(method) = view.method.as_ref().filter(|_| with_method) {
        ui.add_space(S16);
        let top = ui.cursor().min;
        head_ui(ui, "Model working", "with the figures of this draw");
        for (n, line) in method.iter().enumerate() {
            method_ui(ui, &places, n + 1, line, n + 1 == method.len());
        }
        if new == New::Method {
            ui.scroll_to_rect(since(ui, top), None);
        }
    }
}

/// One row: its number, how it stands, the expression over as many rows as it takes, its value; words under it.
fn row_ui(
    ui: &mut Ui,
    places: &Places,
    number: usize,
    text: &str,
    value: Option<&ValueView>,
    (words, tone, said): (&str, Tone, &str),
) -> Rect {
    let p = theme::palette(ui);
    let galley = places.written(ui, text, p.ink);
    let left = places.expression;
    let below = (!words.is_empty())
        .then(|| kit::lines(ui, words, ui.available_width() - left, 6, Size::Label, Cut::Regular, p.ink_second));
    let line = theme::line_height(Size::Body);
    let pad = (places.row - line) / 2.0;
    let below_height = below.as_ref().map_or(0.0, |g| g.size().y);
    let (id, rect) =
        ui.allocate_space(vec2(ui.available_width(), galley.size().y.max(line) + below_height + 2.0 * pad));
    named(ui, rect, id, said, false);
    let first = rect.top() + places.row / 2.0;
    let painter = ui.painter();
    paint(
        painter,
        pos2(rect.left(), first),
        Align2::LEFT_CENTER,
        &number.to_string(),
        Size::Label,
        Cut::Mono,
        p.ink_second,
    );
    let text_height = galley.size().y.max(line);
    painter.galley(pos2(rect.left() + left, rect.top() + pad), galley, p.ink);
    if let Some(value) = value {
        places.value(ui, rect, first, value, p.ink);
    }
    if let Some(below) = below {
        let top = rect.top() + pad + text_height;
        ui.painter().galley(pos2(rect.left() + left, top), below, p.ink_second);
    }
    if matches!(tone, Tone::Good | Tone::Bad) {
        let at = pos2(rect.left() + left - S16, first);
        mark(ui.painter(), at, shape(tone), theme::tone(ui, tone));
    }
    rect
}

fn line_ui(ui: &mut Ui, places: &Places, number: usize, line: &MarkedLine, last: bool) {
    let value = line.value.as_ref().map_or_else(String::new, |v| format!(" = {}", v.spoken()));
    let said = format!("Line {number}: {}{value}. {}", line.text, line.words);
    // A tick says enough of a line that agrees; what it agrees with is said to whoever cannot see it.
    let words = if line.tone == Tone::Good { "" } else { &line.words };
    let rect = row_ui(ui, places, number, &line.text, line.value.as_ref(), (words, line.tone, said.trim()));
    rule(ui, rect, last);
}

fn method_ui(ui: &mut Ui, places: &Places, number: usize, line: &MethodLine, last: bool) {
    let tone = if line.yours.is_empty() { Tone::Plain } else { Tone::Good };
    let said = format!("Method, line {number}: {} = {}. {}", line.text, line.value.spoken(), line.yours);
    let rect = row_ui(ui, places, number, &line.text, Some(&line.value), (&line.yours, tone, said.trim()));
    rule(ui, rect, last);
}

/// The answer as the one big figure of the sheet.
fn answer_ui(ui: &mut Ui, places: &Places, answer: &ValueView) {
    let p = theme::palette(ui);
    let (id, rect) = ui.allocate_space(vec2(ui.available_width(), ANSWER_ROW + S8));
    let rect = rect.with_min_y(rect.top() + S4);
    named(ui, rect, id, &format!("Answer: {}", answer.spoken()), false);
    let word = paint(ui.painter(), rect.left_center(), Align2::LEFT_CENTER, "Answer", Size::Body, Cut::Semi, p.ink);
    let room = rect.left() + places.number - word.right() - S12;
    let big = kit::width_of(ui, &answer.number, Size::Big, Cut::Mono) <= room;
    let (size, unit) = if big { (Size::Big, Size::Head) } else { (Size::Body, Size::Body) };
    let number = kit::lines(ui, &answer.number, room, 1, size, Cut::Mono, p.ink);
    let at = pos2(rect.left() + places.number, rect.center().y);
    ui.painter().galley(Align2::RIGHT_CENTER.anchor_size(at, number.size()).min, number, p.ink);
    let width = rect.width() - places.unit;
    let unit = kit::lines(ui, &answer.unit, width, 1, unit, Cut::Regular, p.ink_second);
    let at = pos2(rect.left() + places.unit, rect.center().y);
    ui.painter().galley(Align2::LEFT_CENTER.anchor_size(at, unit.size()).min, unit, p.ink_second);
}

/// What is to be said of a try.
pub(super) fn try_ui(ui: &mut Ui, one: &TryView) {
    let p = theme::palette(ui);
    ui.horizontal_top(|ui| {
        let (_, place) =
            ui.allocate_space(vec2(S24 + S4 - ui.spacing().item_spacing.x, theme::line_height(Size::Body)));
        mark(ui.painter(), pos2(place.left() + S8, place.center().y), shape(one.tone), theme::tone(ui, one.tone));
        ui.vertical(|ui| {
            label_in(ui, READING - S24, &one.words, Size::Body, Cut::Regular, p.ink);
            if !one.note.is_empty() {
                label_in(ui, READING - S24, &one.note, Size::Label, Cut::Regular, p.ink_second);
            }
        });
    });
    ui.add_space(S8);
}
