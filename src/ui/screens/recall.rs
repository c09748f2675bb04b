//! A recall card: say it and tick the points, or type it and have them found.

use eframe::egui::{Align2, CursorIcon, Id, Rect, Sense, Ui, WidgetInfo, WidgetType, pos2, vec2};

use crate::app::command::Command;
use crate::present::watch::{PointRow, ResultView};
use crate::ui::keys::{self, Held};
use crate::ui::kit::{
    self, Act, Field, Mark, Room, field, heading, label_in, mark, number_box, paint, room, wedge_in_margin,
};
use crate::ui::screens::parts::{ResultAt, result_ui};
use crate::ui::screens::watch_card::{CardAct, CardLocal};
use crate::ui::theme::measure::{LINE, POINT_ROW, PROMPT, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// The field for a typed answer.
pub(super) fn field_id() -> Id {
    Id::new("recall-typed")
}

/// What may be done while a recall is asked.
pub(super) fn acts(local: &CardLocal) -> Vec<Act<CardAct>> {
    let show = CardAct::Run(Command::ShowPoints);
    if local.typed.trim().is_empty() {
        vec![
            Act::primary("Show key points", keys::SPACE, show),
            Act::other("Type the answer", keys::letter('T'), CardAct::Type),
        ]
    } else {
        vec![
            Act::primary("Find the points", keys::CTRL_ENTER, CardAct::HandIn),
            Act::other("Show key points", keys::SPACE, show),
        ]
    }
}

/// The field in which the answer may be typed.
pub(super) fn asked_ui(ui: &mut Ui, local: &mut CardLocal) -> Option<Command> {
    let p = theme::palette(ui);
    let words = "Say it aloud, then show the key points. Or type it, and the points are found in your words.";
    label_in(ui, PROMPT, words, Size::Label, Cut::Regular, p.ink_second);
    ui.add_space(S12);
    let rows = if room(ui.ctx()) == Room::Tiny { 3 } else { 6 };
    let spec = Field { hint: "Your answer", rows, ..Field::line(field_id(), "Your answer", PROMPT) };
    field(ui, &spec, &mut local.typed);
    let nothing_typed = local.typed.trim().is_empty();
    (nothing_typed && keys::take(ui, keys::ENTER)).then_some(Command::ShowPoints)
}

/// The key points with what was said of them, and what that comes to; `heard` by a second person.
pub(super) fn shown_ui(
    ui: &mut Ui,
    points: &[PointRow],
    typed: Option<&str>,
    (result, at): (&ResultView, ResultAt),
    heard: bool,
) -> Option<Command> {
    let words = match (typed, heard) {
        (Some(_), _) => "Correct what was found",
        (None, true) => "Tick what was said",
        (None, false) => "Tick what you said",
    };
    let command = points_ui(ui, points, words);
    typed_ui(ui, typed);
    result_ui(ui, result, at).or(command)
}

/// What was found in typed words, in an oral: nothing is ticked there.
pub(super) fn found_ui(
    ui: &mut Ui,
    points: &[PointRow],
    typed: Option<&str>,
    (result, at): (&ResultView, ResultAt),
) -> Option<Command> {
    heading(ui, "What was found in your words", Size::Label, Cut::Semi);
    ui.add_space(S4);
    for point in points {
        point_ui(ui, point);
    }
    typed_ui(ui, typed);
    result_ui(ui, result, at)
}

fn typed_ui(ui: &mut Ui, typed: Option<&str>) {
    if let Some(typed) = typed {
        let p = theme::palette(ui);
        ui.add_space(S12);
        label_in(ui, PROMPT, &format!("You typed: {typed}"), Size::Label, Cut::Italic, p.ink_second);
    }
}

/// The key points alone, to be ticked.
pub(super) fn points_ui(ui: &mut Ui, points: &[PointRow], words: &str) -> Option<Command> {
    head_ui(ui, points.len(), words);
    let mut command = None;
    for point in points {
        if point_ui(ui, point) || (point.number <= 9 && keys::take(ui, keys::digit(point.number))) {
            command = Some(Command::Tick(point.number));
        }
    }
    command
}

fn head_ui(ui: &mut Ui, count: usize, words: &str) {
    let p = theme::palette(ui);
    let width = ui.available_width();
    let top = ui.cursor().min;
    let (_, row) = (0, Rect::from_min_size(top, vec2(width, S24 + S4)));
    let mut right = row.right();
    if count > 1 {
        let last = kit::key_box(ui, pos2(right - S16 - S4, row.center().y), &count.to_string(), p.ink, p.line);
        right = paint(
            ui.painter(),
            pos2(last.left() - S4 + 1.0, row.center().y),
            Align2::RIGHT_CENTER,
            "to",
            Size::Label,
            Cut::Regular,
            p.ink_second,
        )
        .left()
            + S16;
    }
    let first = kit::key_box(ui, pos2(right - S40 + S4 - S4 + 1.0, row.center().y), "1", p.ink, p.line);
    paint(
        ui.painter(),
        pos2(first.left() - S12, row.center().y),
        Align2::RIGHT_CENTER,
        words,
        Size::Label,
        Cut::Regular,
        p.ink_second,
    );
    ui.horizontal(|ui| {
        ui.set_height(S24 + S4);
        heading(ui, "Key points", Size::Label, Cut::Semi);
    });
    let y = ui.painter().round_to_pixel_center(ui.cursor().top());
    ui.painter().hline(row.x_range(), y, theme::hairline(ui));
    ui.add_space(LINE);
}

fn state_of(point: &PointRow) -> (&'static str, crate::present::Tone, Mark) {
    use crate::present::Tone;
    if point.contradicted && !point.said {
        ("contradicted", Tone::Bad, Mark::Cross)
    } else if point.said {
        ("said", Tone::Good, Mark::Tick)
    } else {
        ("not said", Tone::Bad, Mark::Ring)
    }
}

/// One key point; true when it was ticked or unticked.
fn point_ui(ui: &mut Ui, point: &PointRow) -> bool {
    let p = theme::palette(ui);
    let (word, tone, shape) = state_of(point);
    let tiny = room(ui.ctx()) == Room::Tiny;
    let right_room = if tiny {
        S24 * 4.0
    } else if point.critical {
        208.0
    } else {
        112.0
    };
    let text_left = S40 + S24 + S8;
    let width = ui.available_width() - text_left - right_room;
    let text = kit::lines(ui, &point.text, width, 8, Size::Body, Cut::Regular, p.ink);
    let evidence = point.evidence.as_ref().map(|words| {
        let words = if point.contradicted {
            format!("You wrote, against it: “{words}”")
        } else {
            format!("You wrote: “{words}”")
        };
        kit::lines(ui, &words, width, 4, Size::Label, Cut::Italic, p.ink_second)
    });
    let evidence_height = evidence.as_ref().map_or(0.0, |g| g.size().y);
    let height = POINT_ROW.max(text.size().y + evidence_height + S16 + S4);
    let (id, rect) = ui.allocate_space(vec2(ui.available_width(), height));
    let response = ui.interact(rect, id, Sense::click());
    let critical = if point.critical { ", safety-critical" } else { "" };
    let said = format!("{}. {}{critical}, {word}", point.number, point.text);
    response.widget_info(|| WidgetInfo::selected(WidgetType::Checkbox, true, point.said, &said));
    if response.has_focus() {
        keys::note(ui.ctx(), id, Held::Choice);
    }
    if response.hovered() {
        ui.painter().rect_filled(rect.shrink2(vec2(0.0, 1.0)), 0, p.raised);
    }
    let first_line = rect.top() + POINT_ROW / 2.0;
    let state = theme::tone(ui, tone);
    if point.critical {
        wedge_in_margin(ui, Rect::from_min_size(rect.min, vec2(rect.width(), POINT_ROW)));
    }
    number_box(ui, pos2(rect.left(), first_line), point.number, if point.said { p.sea } else { p.ink_second });
    let mark_color = if shape == Mark::Ring { p.line } else { state };
    mark(ui.painter(), pos2(rect.left() + POINT_ROW, first_line), shape, mark_color);
    let at = pos2(rect.left() + text_left, rect.top() + (POINT_ROW - theme::line_height(Size::Body)) / 2.0);
    let text_height = text.size().y;
    ui.painter().galley(at, text, p.ink);
    if let Some(evidence) = evidence {
        ui.painter().galley(at + vec2(0.0, text_height), evidence, p.ink_second);
    }
    let right = |x: f32, y: f32, text: &str, color| {
        paint(ui.painter(), pos2(x, y), Align2::RIGHT_CENTER, text, Size::Label, Cut::Regular, color);
    };
    right(rect.right(), first_line, word, state);
    if point.critical {
        let (x, y) = if tiny { (rect.right(), first_line + S16) } else { (rect.right() - 114.0, first_line) };
        right(x, y, "safety-critical", p.red_lead);
    }
    ui.painter().hline(rect.x_range(), ui.painter().round_to_pixel_center(rect.bottom() - 1.0), theme::hairline(ui));
    kit::ring_focus(ui, &response, rect.expand2(vec2(S4, -2.0)));
    response.on_hover_cursor(CursorIcon::PointingHand).clicked()
}
