//! How an answer was marked, point by point, and what a sample of it is to expect.

use eframe::egui::{Align2, CursorIcon, Label, Sense, Ui, UiBuilder, WidgetInfo, WidgetType, pos2, vec2};

use crate::app::program::command::{Command, WritingCommand};
use crate::domain::outcome::Outcome;
use crate::present::Tone;
use crate::present::writing::{Found, ToldPoint, Wanted, WriteToldView};
use crate::ui::keys::{self, Held};
use crate::ui::kit::{
    self, Act, Column, Mark, Room, Sheet, columns_of, head_row, heading, label_in, lines, mark, paint, rich,
    ring_focus, room,
};
use crate::ui::theme::measure::{PROMPT, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// Height of what stands above the actions.
const STRIP: f32 = S40 + S8;

#[derive(Clone, PartialEq)]
enum ToldAct {
    Keep,
    Outcome,
}

/// The outcomes that a sample may be held to, in the order in which its key goes through them; a sample has no time, so
/// that none is fluent.
const OUTCOMES: [Option<Outcome>; 4] = [None, Some(Outcome::Missed), Some(Outcome::Prompted), Some(Outcome::Answered)];

/// Draws it.
pub fn write_told_ui(ui: &mut Ui, view: &WriteToldView) -> Option<Command> {
    let acts = [
        Act::primary("Write it into the card as a sample", keys::ENTER, ToldAct::Keep).when(view.may_keep),
        Act::other("Another result for it", keys::letter('R'), ToldAct::Outcome),
    ];
    let sheet = Sheet { framed: false, block: None, folded: false, scroll: "write-told" };
    let shown = sheet.show_with_strip(ui, &acts, STRIP, |ui| content_ui(ui, view));
    let (wanted, act) = (shown.inner, shown.act);
    let mut strip = ui.new_child(UiBuilder::new().id_salt("sample").max_rect(shown.strip));
    sample_ui(&mut strip, view);
    match act {
        Some(ToldAct::Keep) => Some(Command::Writing(WritingCommand::KeepSample)),
        Some(ToldAct::Outcome) => {
            let at = OUTCOMES.iter().position(|outcome| *outcome == view.outcome_wanted).unwrap_or(0);
            Some(Command::Writing(WritingCommand::WantOutcome(OUTCOMES[(at + 1) % OUTCOMES.len()])))
        }
        None => wanted.map(|(point, wanted)| Command::Writing(WritingCommand::Want { point, wanted })),
    }
}

fn content_ui(ui: &mut Ui, view: &WriteToldView) -> Option<(usize, Wanted)> {
    let p = theme::palette(ui);
    ui.add_space(S4);
    rich(ui, &view.ask, PROMPT, Size::Body, p.ink);
    ui.add_space(S8);
    label_in(ui, PROMPT, &format!("Answered: {}", view.answer), Size::Body, Cut::Italic, p.ink);
    ui.add_space(S12);
    heading(ui, &format!("{}. {}", view.outcome.word(), view.reason), Size::Label, Cut::Semi);
    label_in(ui, PROMPT, &view.readers, Size::Label, Cut::Regular, p.ink_second);
    let mut wanted = None;
    if !view.points.is_empty() {
        ui.add_space(S16);
        let columns = columns(ui);
        head_row(ui, &columns, &["", "Key point", "Found", "In a sample"]);
        for point in &view.points {
            if point_ui(ui, &columns, point) {
                wanted = Some((point.number, point.wanted.next()));
            }
        }
    }
    wanted
}

fn columns(ui: &Ui) -> [Column; 4] {
    let tiny = room(ui.ctx()) == Room::Tiny;
    let (found, wanted) = if tiny { (S24 * 3.0, S24 * 4.0) } else { (S24 * 4.0, S40 * 4.0) };
    [Column::Text(S24), Column::Share(1.0), Column::Text(found), Column::Text(wanted)]
}

/// A point: what was found of it by whom; true where a sample is to expect something else of it.
fn point_ui(ui: &mut Ui, columns: &[Column], point: &ToldPoint) -> bool {
    let p = theme::palette(ui);
    let hot = keys::digit(point.number);
    if point.number == 1 {
        keys::offer(ui.ctx(), hot, "What a sample expects of the first point; 2 of the second, and so on");
    }
    let (tone, shape) = match point.found {
        Found::Said => (Tone::Good, Mark::Tick),
        Found::Denied => (Tone::Bad, Mark::Cross),
        Found::NotSure => (Tone::Weak, Mark::Query),
        Found::NotSaid => (Tone::Quiet, Mark::Ring),
    };
    let critical = if point.critical { " (safety-critical)" } else { "" };
    let words = format!("{}{critical}", kit::plain_text(&point.text));
    let in_sample = match point.wanted {
        Wanted::Open => "may be either way",
        Wanted::Said => "must be said",
        Wanted::Denied => "must be denied",
    };
    let found = point.found.word();
    let name = format!("Point {}: {words}. Found {found}. In a sample it {in_sample}.", point.number);
    let places = columns_of(columns, ui.available_width());
    let text_width = places[1].1;
    let text = lines(ui, &words, text_width, 3, Size::Label, Cut::Regular, p.ink);
    let ground = lines(ui, &point.ground.join("  "), text_width, 3, Size::Small, Cut::Regular, p.ink_second);
    let has_ground = !point.ground.is_empty();
    let ground_height = if has_ground { ground.size().y + S4 } else { 0.0 };
    let height = S8 + text.size().y + ground_height + S8;
    let (id, rect) = ui.allocate_space(vec2(ui.available_width(), height));
    let response = ui.interact(rect, id, Sense::click());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &name));
    if response.has_focus() {
        keys::note(ui.ctx(), id, Held::Button);
    }
    if response.hovered() {
        ui.painter().rect_filled(rect.expand2(vec2(S8, 0.0)), 0, p.raised);
    }
    let line = rect.top() + S8 + theme::line_height(Size::Label) / 2.0;
    let at = |column: usize| pos2(rect.left() + places[column].0, line);
    kit::number_box(ui, at(0), point.number, p.ink_second);
    let top = pos2(at(1).x, rect.top() + S8);
    let below = pos2(top.x, top.y + text.size().y + S4);
    ui.painter().galley(top, text, p.ink);
    if has_ground {
        ui.painter().galley(below, ground, p.ink_second);
    }
    let color = theme::tone(ui, tone);
    mark(ui.painter(), at(2) + vec2(S8, 0.0), shape, color);
    paint(ui.painter(), at(2) + vec2(S24, 0.0), Align2::LEFT_CENTER, found, Size::Label, Cut::Regular, color);
    paint(ui.painter(), at(3), Align2::LEFT_CENTER, point.wanted.word(), Size::Label, Cut::Regular, p.ink);
    ui.painter().hline(rect.x_range(), ui.painter().round_to_pixel_center(rect.bottom() - 1.0), theme::hairline(ui));
    ring_focus(ui, &response, rect.expand2(vec2(S4, -2.0)));
    response.on_hover_cursor(CursorIcon::PointingHand).clicked() || keys::take(ui, hot)
}

/// What a sample of it comes to; it stands above the actions, in sight.
fn sample_ui(ui: &mut Ui, view: &WriteToldView) {
    let p = theme::palette(ui);
    let outcome = match view.outcome_wanted {
        Some(outcome) => format!("As a sample it must come to {}.", outcome.word()),
        None => "What it comes to as a sample is left open.".to_owned(),
    };
    let width = ui.available_width();
    label_in(ui, width, &outcome, Size::Label, Cut::Semi, p.ink);
    let (words, color) = match (view.otherwise.is_empty(), view.may_keep) {
        (_, false) => ("A sample must expect something: a point said or denied, or a result.".to_owned(), p.ink_second),
        (true, _) => ("As the card stands, it comes out as it is meant.".to_owned(), p.sea),
        (false, _) => (format!("As the card stands, it comes out otherwise: {}.", view.otherwise), p.red_lead),
    };
    ui.add(Label::new(kit::job(&words, Size::Label, Cut::Regular, color)).truncate());
}
