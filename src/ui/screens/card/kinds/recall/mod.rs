//! A recall card: say it and tick the points, or type it and have them found.

mod not_sure;
mod rows;

use eframe::egui::{Align2, CursorIcon, Id, Rect, Response, Sense, Ui, Vec2, WidgetInfo, WidgetType, pos2, vec2};

use rows::{WORDS, head_ui, row_height};

use crate::app::program::command::{CardCommand, Command};
use crate::domain::answer::Given;
use crate::present::Tone;
use crate::present::kinds::recall::{PointRow, RecallAskedView, RecallMarkedView};
use crate::present::result::ResultView;
use crate::ui::keys::{self, Held, KeyLine};
use crate::ui::kit::{self, Act, Field, Mark, Room, heading, label_in, mark, number_box, paint, room, wedge_in_margin};
use crate::ui::screens::card::act::{self, CardAct, Moment, Own};
use crate::ui::screens::card::face::{Canvas, CardFace};
use crate::ui::screens::card::outcome::{ResultAt, because_ui, outcome_ui, result_ui};
use crate::ui::screens::card::typed::Typed;
use crate::ui::theme::measure::{GIVEN_ROW, POINT_ROW, PROMPT, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// Nothing but what is typed is kept of a draft.
pub(super) type Local = ();

/// The face of a card of this kind that is asked.
pub(super) fn asked<'a>(
    _view: &'a RecallAskedView,
    typed: &'a mut Typed,
    _local: &'a mut Local,
) -> Box<dyn CardFace + 'a> {
    Box::new(Asked { typed })
}

/// The face of a card of this kind that is marked.
pub(super) fn marked<'a>(view: &'a RecallMarkedView, _local: &'a mut Local) -> Box<dyn CardFace + 'a> {
    Box::new(Marked { view })
}

/// A recall that is asked: it is said aloud, or typed.
struct Asked<'a> {
    typed: &'a mut Typed,
}

impl CardFace for Asked<'_> {
    fn acts(&self, moment: Moment) -> Vec<Act<CardAct>> {
        if moment.reading {
            return act::reading();
        }
        let show = CardAct::Run(Command::Card(CardCommand::ShowPoints));
        if self.typed.is_empty() {
            vec![
                Act::primary("Show key points", keys::ENTER, show),
                Act::other("Type the answer", keys::letter('T'), CardAct::Own(Own::Type)),
            ]
        } else {
            vec![
                Act::primary("Mark my answer", keys::CTRL_ENTER, CardAct::Own(Own::HandIn)),
                Act::other("Show key points", keys::ENTER, show),
            ]
        }
    }

    fn keys(&self) -> Vec<KeyLine> {
        vec![KeyLine::of("CTRL ENTER", "Mark what is typed")]
    }

    fn body_ui(&mut self, ui: &mut Ui, canvas: &mut Canvas<'_>) -> Option<Command> {
        let p = theme::palette(ui);
        let words = "Say it aloud, then show the key points. Or type it, and the points are found in your words.";
        label_in(ui, PROMPT, words, Size::Label, Cut::Regular, p.ink_second);
        ui.add_space(S12);
        let rows = if room(ui.ctx()) == Room::Tiny { 3 } else { 6 };
        let spec = Field { hint: "Your answer", rows, ..Field::line(field_id(), "Your answer", PROMPT) };
        self.typed.field_ui(ui, &spec, canvas.reading);
        None
    }

    fn run(&mut self, ui: &Ui, act: Own) -> Option<Command> {
        match act {
            Own::HandIn => Some(Command::Card(CardCommand::Submit(Given::Text(self.typed.text.trim().to_owned())))),
            Own::Type => {
                ui.memory_mut(|m| m.request_focus(field_id()));
                None
            }
            _ => None,
        }
    }
}

/// A recall that is marked: its points are ticked, or found in what was typed.
struct Marked<'a> {
    view: &'a RecallMarkedView,
}

impl CardFace for Marked<'_> {
    fn acts(&self, moment: Moment) -> Vec<Act<CardAct>> {
        act::marked(moment)
    }

    fn keys(&self) -> Vec<KeyLine> {
        vec![KeyLine::of("1, …, 9", "Tick a point as said, or take the tick away")]
    }

    fn body_ui(&mut self, ui: &mut Ui, canvas: &mut Canvas<'_>) -> Option<Command> {
        let result = canvas.result?;
        shown_ui(ui, &self.view.points, self.view.typed.as_deref(), (result, canvas.at), false)
    }
}

/// The field for a typed answer.
pub(crate) fn field_id() -> Id {
    Id::new("recall-typed")
}

/// The key points with what was said of them, and what that comes to; `heard` by a second person.
///
/// What was typed is shown in the order in which it is learned from: what is missing, the rule, the reason, and last what was
/// said. Points that are ticked by hand keep the deck's order, so that nothing moves under the hand.
pub(crate) fn shown_ui(
    ui: &mut Ui,
    points: &[PointRow],
    typed: Option<&str>,
    (result, at): (&ResultView, ResultAt),
    heard: bool,
) -> Option<Command> {
    let command = if typed.is_some() {
        sorted_ui(ui, points, result)
    } else {
        let command = points_ui(ui, points, if heard { "Tick what was said" } else { "Tick what you said" });
        because_ui(ui, result);
        command
    };
    typed_ui(ui, typed);
    if at == ResultAt::Strip {
        return command;
    }
    ui.add_space(S16);
    outcome_ui(ui, result).or(command)
}

/// What was found in typed words, in an oral: nothing is ticked there.
pub(crate) fn found_ui(
    ui: &mut Ui,
    points: &[PointRow],
    typed: Option<&str>,
    (result, at): (&ResultView, ResultAt),
) -> Option<Command> {
    heading(ui, "What was found in your words", Size::Label, Cut::Semi);
    ui.add_space(S4);
    for point in points {
        point_ui(ui, point, row_height(points));
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

/// Up to so many points are said in rows of their own.
const SOME: usize = 6;

/// Kept free at a row's right: for its state in a word, for that with `safety-critical` before it, and in a tiny window,
/// where one stands under the other.
const STATE: f32 = 112.0;
const STATE_CRITICAL: f32 = 208.0;
const STATE_TINY: f32 = 4.0 * S24;
/// From a row's right edge to the end of `safety-critical`, where its state stands after that.
const BEFORE_STATE: f32 = 114.0;
/// Kept free at the right of a low row for `safety-critical` alone.
const CRITICAL: f32 = 2.5 * S40;
/// The share of a low row's words that is the point's; the rest is the learner's own words.
const POINT_SHARE: f32 = 0.54;

/// Not said, not sure, the rule, because, said.
fn sorted_ui(ui: &mut Ui, points: &[PointRow], result: &ResultView) -> Option<Command> {
    let of = points.len();
    let (said, rest): (Vec<&PointRow>, Vec<&PointRow>) = points.iter().partition(|point| point.said);
    let missed: Vec<&PointRow> = rest.into_iter().filter(|point| !point.unsure).collect();
    let mut pressed = None;
    let keys = Some(("Correct a row", of));
    if !missed.is_empty() {
        head_ui(ui, "Not said", &format!("{} of {of}", missed.len()), keys);
        for point in &missed {
            if point_ui(ui, point, row_height(points)) {
                pressed = Some(point.number);
            }
        }
    }
    let settled = not_sure::not_sure_ui(ui, points, of);
    because_ui(ui, result);
    if !said.is_empty() {
        ui.add_space(S12);
        head_ui(ui, "Said", &format!("{} of {of}", said.len()), keys.filter(|_| missed.is_empty()));
        if of > SOME {
            pressed = folded_ui(ui, &said).or(pressed);
        } else {
            for point in &said {
                if said_ui(ui, point) {
                    pressed = Some(point.number);
                }
            }
        }
    }
    let ticked = pressed.or_else(|| digit(ui, points)).map(|it| Command::Card(CardCommand::Tick(it)));
    settled.or(ticked)
}

fn digit(ui: &Ui, points: &[PointRow]) -> Option<usize> {
    points.iter().map(|point| point.number).find(|n| *n <= 9 && keys::take(ui, keys::digit(*n)))
}

/// The key points alone, to be ticked.
pub(crate) fn points_ui(ui: &mut Ui, points: &[PointRow], words: &str) -> Option<Command> {
    head_ui(ui, "Key points", "", Some((words, points.len())));
    let mut pressed = None;
    for point in points {
        if point_ui(ui, point, row_height(points)) {
            pressed = Some(point.number);
        }
    }
    pressed.or_else(|| digit(ui, points)).map(|it| Command::Card(CardCommand::Tick(it)))
}

/// A point as a widget that is ticked and unticked: its place, and the response under its name.
fn tickable(ui: &mut Ui, point: &PointRow, size: Vec2) -> (Rect, Response) {
    let (id, rect) = ui.allocate_space(size);
    let response = ui.interact(rect, id, Sense::click());
    let critical = if point.critical { ", safety-critical" } else { "" };
    let said = format!("{}. {}{critical}, {}", point.number, point.text, state_of(point).0);
    response.widget_info(|| WidgetInfo::selected(WidgetType::Checkbox, true, point.said, &said));
    if response.has_focus() {
        keys::note(ui.ctx(), id, Held::Tick);
    }
    if response.hovered() {
        ui.painter().rect_filled(rect.shrink2(vec2(0.0, 1.0)), 0, theme::palette(ui).raised);
    }
    (rect, response.on_hover_cursor(CursorIcon::PointingHand))
}

/// A point that was said, in a low row with the words that made it; true when its tick was taken away.
fn said_ui(ui: &mut Ui, point: &PointRow) -> bool {
    let p = theme::palette(ui);
    let width = ui.available_width();
    let left = WORDS;
    let right = if point.critical { CRITICAL } else { 0.0 };
    let beside = point.evidence.as_ref().filter(|_| room(ui.ctx()) != Room::Tiny);
    let words_width = if beside.is_some() { (width - left) * POINT_SHARE } else { width - left - right };
    let text = kit::lines(ui, &point.text, words_width, 4, Size::Label, Cut::Regular, p.ink);
    let (rect, response) = tickable(ui, point, vec2(width, GIVEN_ROW.max(text.size().y + S8)));
    let first = rect.top() + GIVEN_ROW / 2.0;
    if point.critical {
        wedge_in_margin(ui, Rect::from_min_size(rect.min, vec2(width, GIVEN_ROW)));
    }
    let number = pos2(rect.left() + S12, first);
    paint(ui.painter(), number, Align2::CENTER_CENTER, &point.number.to_string(), Size::Label, Cut::Mono, p.sea);
    mark(ui.painter(), pos2(rect.left() + POINT_ROW, first), Mark::Tick, p.sea);
    let top = first - theme::line_height(Size::Label) / 2.0;
    ui.painter().galley(pos2(rect.left() + left, top), text, p.ink);
    if let Some(words) = beside {
        let at = rect.left() + left + words_width + S24;
        let words = format!("“{words}”");
        let galley = kit::lines(ui, &words, rect.right() - at - right, 1, Size::Label, Cut::Italic, p.ink_second);
        ui.painter().galley(pos2(at, top), galley, p.ink_second);
    }
    if point.critical {
        let at = pos2(rect.right(), first);
        paint(ui.painter(), at, Align2::RIGHT_CENTER, "safety-critical", Size::Label, Cut::Regular, p.red_lead);
    }
    ui.painter().hline(rect.x_range(), ui.painter().round_to_pixel_center(rect.bottom() - 1.0), theme::hairline(ui));
    kit::ring_focus(ui, &response, rect.expand2(vec2(S4, -2.0)));
    response.clicked()
}

/// Many points that were said, as their numbers in a line; the number whose tick was taken away.
fn folded_ui(ui: &mut Ui, said: &[&PointRow]) -> Option<usize> {
    let mut pressed = None;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = S8;
        for point in said {
            let (rect, response) = tickable(ui, point, vec2(S24, S24 + S8));
            number_box(ui, pos2(rect.left(), rect.center().y), point.number, theme::palette(ui).sea);
            kit::ring_focus(ui, &response, rect);
            if response.on_hover_text(&point.text).clicked() {
                pressed = Some(point.number);
            }
        }
    });
    pressed
}

fn state_of(point: &PointRow) -> (&'static str, Tone, Mark) {
    if point.contradicted && !point.said {
        ("contradicted", Tone::Bad, Mark::Cross)
    } else if point.said {
        ("said", Tone::Good, Mark::Tick)
    } else {
        ("not said", Tone::Bad, Mark::Ring)
    }
}

/// One key point; true when it was ticked or unticked.
fn point_ui(ui: &mut Ui, point: &PointRow, row: f32) -> bool {
    let p = theme::palette(ui);
    let (word, tone, shape) = state_of(point);
    let tiny = room(ui.ctx()) == Room::Tiny;
    let right_room = match (tiny, point.critical) {
        (true, _) => STATE_TINY,
        (false, true) => STATE_CRITICAL,
        (false, false) => STATE,
    };
    let width = ui.available_width() - WORDS - right_room;
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
    let height = row.max(text.size().y + evidence_height + S12);
    let (rect, response) = tickable(ui, point, vec2(ui.available_width(), height));
    let first_line = rect.top() + row / 2.0;
    let state = theme::tone(ui, tone);
    if point.critical {
        wedge_in_margin(ui, Rect::from_min_size(rect.min, vec2(rect.width(), row)));
    }
    number_box(ui, pos2(rect.left(), first_line), point.number, if point.said { p.sea } else { p.ink_second });
    let mark_color = if shape == Mark::Ring { p.line } else { state };
    mark(ui.painter(), pos2(rect.left() + POINT_ROW, first_line), shape, mark_color);
    let at = pos2(rect.left() + WORDS, rect.top() + (row - theme::line_height(Size::Body)) / 2.0);
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
        let (x, y) = if tiny { (rect.right(), first_line + S16) } else { (rect.right() - BEFORE_STATE, first_line) };
        right(x, y, "safety-critical", p.red_lead);
    }
    ui.painter().hline(rect.x_range(), ui.painter().round_to_pixel_center(rect.bottom() - 1.0), theme::hairline(ui));
    kit::ring_focus(ui, &response, rect.expand2(vec2(S4, -2.0)));
    response.clicked()
}
