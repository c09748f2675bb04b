//! A procedure that is run: line after line with what each did, the break where it fails, the lines that did not
//! run, and beside it the facts of the plant or a right order.

use std::sync::Arc;

use eframe::egui::{
    Align, Align2, Color32, Galley, Label, Rect, Sense, Ui, WidgetInfo, WidgetType, accesskit, pos2, vec2,
};

use crate::present::kinds::sequence::{
    EffectView, FailureView, How, ReflexView, RightOrder, RunLine, SequenceRunView, Severity,
};
use crate::present::result::ResultView;
use crate::ui::kit::{self, Mark, Panes, Room, Side, ZIGZAG, break_line, heading, label, label_in, mark, paint};
use crate::ui::screens::card::kinds::sequence::facts;
use crate::ui::screens::card::kinds::sequence::local::Local;
use crate::ui::screens::card::outcome::because_ui;
use crate::ui::theme::measure::{LINE, READING, RUN_ROW, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// From a line's left edge to its words.
const WORDS: f32 = S40 + S24;

/// The name of the column that shows one.
const RIGHT_ORDER: &str = "A right order";

/// Draws the run as far as it is played.
pub(super) fn run_ui(ui: &mut Ui, (run, result): (&SequenceRunView, &ResultView), local: &mut Local, panes: &Panes) {
    let right = run.right_order.as_ref().filter(|_| local.right_shown);
    let name = if right.is_some() { RIGHT_ORDER } else { facts::COLUMN };
    let beside = |ui: &mut Ui| {
        facts::head_ui(ui, name);
        match right {
            Some(order) => right_order_ui(ui, order),
            None => facts::column_ui(ui, run, local.shown),
        }
    };
    let procedure = |ui: &mut Ui| {
        head_ui(ui, run);
        procedure_ui(ui, (run, result), local);
    };
    // What is read first comes first where one column stands below the other.
    let bottom = panes.columns(ui, (panes.left, panes.right), |ui, side| match (side, panes.stacked) {
        (Side::Under, _) => {}
        (Side::Left, false) | (Side::Right, true) => beside(ui),
        _ => procedure(ui),
    });
    kit::end_of_panes(ui, bottom);
    local.look_at = None;
}

fn head_ui(ui: &mut Ui, run: &SequenceRunView) {
    let p = theme::palette(ui);
    ui.horizontal(|ui| {
        heading(ui, "Procedure", Size::Label, Cut::Semi);
        ui.add_space(S8);
        label(ui, &run.note(), Size::Label, Cut::Regular, p.ink_second);
    });
    ui.add_space(S8);
    kit::list_rule(ui);
}

fn procedure_ui(ui: &mut Ui, (run, result): (&SequenceRunView, &ResultView), local: &Local) {
    kit::list(ui, "Procedure", run.lines.len());
    for reflex in &run.begun {
        reflex_ui(ui, reflex);
    }
    let settled = local.settled(run);
    for (n, line) in run.lines.iter().enumerate() {
        let failure = run.failures.first().filter(|f| f.line == n + 1 && local.shown > n);
        let response = line_ui(ui, line, n, (run.lines.len(), local.shown > n, settled), failure.is_some());
        if local.shown > n {
            line.reflexes.iter().for_each(|r| reflex_ui(ui, r));
        }
        if let Some(failure) = failure {
            break_ui(ui, failure, local.look_at == Some(n));
        } else if local.look_at == Some(n) {
            response.scroll_to_me(None);
        }
    }
    if settled {
        let top = ui.cursor().min;
        after_ui(ui, run, result);
        if local.look_at == Some(run.lines.len()) {
            let verdict = Rect::from_min_max(top, pos2(ui.max_rect().right(), ui.cursor().top()));
            ui.scroll_to_rect(verdict, Some(Align::BOTTOM));
        }
    }
}

/// What a line shows at its left: shape and colour.
fn look(ui: &Ui, how: How, played: bool) -> (Option<Mark>, Color32, Color32) {
    let p = theme::palette(ui);
    match how {
        _ if !played => (None, p.ink_second, p.ink_second),
        How::Done => (Some(Mark::Tick), p.sea, p.ink),
        How::Broken | How::Trap => (Some(Mark::Cross), p.red_lead, p.ink),
        How::NotRun => (None, p.ink_second, p.ink_second),
    }
}

/// What stands at a line's right, or under it where there is no room: what it changed, or that it did not run.
fn outcome(line: &RunLine, played: bool, settled: bool) -> String {
    match line.how {
        How::Done if played => effects(&line.effects),
        How::Trap if played => "belongs nowhere".to_owned(),
        How::Broken if played => "fails".to_owned(),
        _ if settled => "not run".to_owned(),
        _ => String::new(),
    }
}

fn effects(effects: &[EffectView]) -> String {
    effects.iter().map(EffectView::words).collect::<Vec<_>>().join(", ")
}

/// A line; `(of, played, settled)` is how many there are, whether it was played, whether all were.
fn line_ui(
    ui: &mut Ui,
    line: &RunLine,
    n: usize,
    (of, played, settled): (usize, bool, bool),
    fails: bool,
) -> eframe::egui::Response {
    let p = theme::palette(ui);
    let (shape, color, ink) = look(ui, line.how, played);
    let word = outcome(line, played, settled);
    let cut = if fails { Cut::Semi } else { Cut::Regular };
    let word_shown = if fails { "" } else { word.as_str() };
    let width = ui.available_width() - WORDS;
    let beside = kit::width_of(ui, word_shown, Size::Label, Cut::Regular);
    let words_width = kit::width_of(ui, &line.words, Size::Label, cut);
    let one_row = word_shown.is_empty() || words_width + S24 + beside <= width;
    let words = kit::lines(ui, &line.words, width, 6, Size::Label, cut, ink);
    let below = (!one_row).then(|| kit::lines(ui, word_shown, width, 6, Size::Label, Cut::Regular, color));
    let text_height = words.size().y + below.as_ref().map_or(0.0, |g| g.size().y);
    let height = RUN_ROW.max(text_height + S12);
    let (id, rect) = ui.allocate_space(vec2(ui.available_width(), height));
    let response = ui.interact(rect, id, Sense::hover());
    let said = format!("Line {}: {}{}{word}", n + 1, line.words, if word.is_empty() { "" } else { ": " });
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
    ui.ctx().accesskit_node_builder(response.id, |node| {
        node.set_position_in_set(n + 1);
        node.set_size_of_set(of);
    });
    let top = rect.top() + (RUN_ROW.min(height) - theme::line_height(Size::Label)) / 2.0;
    let first = top + theme::line_height(Size::Label) / 2.0;
    let number = if fails { color } else { p.ink_second };
    let at = pos2(rect.left() + S24 + S4, first);
    paint(ui.painter(), at, Align2::RIGHT_CENTER, &(n + 1).to_string(), Size::Label, Cut::Mono, number);
    if let Some(shape) = shape {
        mark(ui.painter(), pos2(rect.left() + S40 + S8 - LINE, first), shape, color);
    }
    let words_height = words.size().y;
    ui.painter().galley(pos2(rect.left() + WORDS, top), words, ink);
    if let Some(below) = below {
        ui.painter().galley(pos2(rect.left() + WORDS, top + words_height), below, color);
    } else {
        let at = pos2(rect.right(), first);
        paint(ui.painter(), at, Align2::RIGHT_CENTER, word_shown, Size::Label, Cut::Regular, color);
    }
    if !fails {
        let y = ui.painter().round_to_pixel_center(rect.bottom() - LINE);
        ui.painter().hline(rect.x_range(), y, theme::hairline(ui));
    }
    response
}

/// What the plant did by itself after a line: under it, by an elbow.
fn reflex_ui(ui: &mut Ui, reflex: &ReflexView) {
    let p = theme::palette(ui);
    let tail = effects(&reflex.effects);
    let tail_ink = if reflex.effects.iter().any(|e| e.holds) { p.sea } else { p.ink_second };
    let width = ui.available_width() - WORDS - S16;
    let tell = kit::lines(ui, &reflex.tell, width, 6, Size::Label, Cut::Italic, p.ink);
    let tail_galley: Option<Arc<Galley>> =
        (!tail.is_empty()).then(|| kit::lines(ui, &tail, width, 6, Size::Label, Cut::Regular, tail_ink));
    let height = tell.size().y + tail_galley.as_ref().map_or(0.0, |g| g.size().y);
    let (id, rect) = ui.allocate_space(vec2(ui.available_width(), height + S8 + S4));
    let response = ui.interact(rect, id, Sense::hover());
    let said = if tail.is_empty() {
        format!("By itself: {}", reflex.tell)
    } else {
        format!("By itself: {} ({tail})", reflex.tell)
    };
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
    let top = rect.top() + S4 + 2.0;
    let first = ui.painter().round_to_pixel_center(top + theme::line_height(Size::Label) / 2.0);
    let x = ui.painter().round_to_pixel_center(rect.left() + WORDS + S4);
    ui.painter().vline(x, (rect.top() + 2.0)..=first, theme::line(ui));
    ui.painter().hline(x..=(x + S8), first, theme::line(ui));
    let tell_height = tell.size().y;
    let left = rect.left() + WORDS + S16 + S4;
    ui.painter().galley(pos2(left, top), tell, p.ink);
    if let Some(tail) = tail_galley {
        ui.painter().galley(pos2(left, top + tell_height), tail, tail_ink);
    }
    let y = ui.painter().round_to_pixel_center(rect.bottom() - LINE);
    ui.painter().hline(rect.x_range(), y, theme::hairline(ui));
}

/// The shape and the colour of a severity.
fn severity_look(ui: &Ui, severity: Severity) -> (Mark, Color32) {
    let p = theme::palette(ui);
    match severity {
        Severity::NoEffect => (Mark::Circle, p.ink_second),
        Severity::Trip => (Mark::WedgeUp, p.amber),
        Severity::Damage | Severity::Injury => (Mark::WedgeUp, p.red_lead),
    }
}

/// The break of the sheet: what happened, why, how bad it is.
fn break_ui(ui: &mut Ui, failure: &FailureView, look_at: bool) {
    let p = theme::palette(ui);
    let top = ui.cursor().top();
    zigzag(ui);
    let left = ui.max_rect().left();
    ui.horizontal_top(|ui| {
        ui.add_space(if kit::room(ui.ctx()) == Room::Tiny { S24 } else { WORDS });
        ui.vertical(|ui| {
            ui.add_space(S12);
            let response = heading(ui, &failure.cause, Size::Head, Cut::Regular);
            ui.ctx().accesskit_node_builder(response.id, |node| node.set_live(accesskit::Live::Polite));
            ui.add_space(S8);
            label_in(ui, READING, &failure.reason(), Size::Label, Cut::Regular, p.ink_second);
            ui.add_space(S12);
            severity_ui(ui, failure.severity);
            ui.add_space(S16);
        });
    });
    zigzag(ui);
    let all = Rect::from_min_max(pos2(left, top - RUN_ROW), pos2(ui.max_rect().right(), ui.cursor().top()));
    if look_at {
        // Where both do not fit, what happened comes before the line that did it.
        let fits = all.height() <= ui.clip_rect().height();
        ui.scroll_to_rect(if fits { all } else { all.with_min_y(top) }, if fits { None } else { Some(Align::TOP) });
    }
}

fn zigzag(ui: &mut Ui) {
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), 2.0 * ZIGZAG));
    let overhang = match kit::room(ui.ctx()) {
        Room::Full => S24,
        Room::Folded => S16,
        Room::Tiny => S8,
    };
    let x = rect.x_range().expand(overhang);
    break_line(ui.painter(), x, rect.center().y, theme::palette(ui).red_lead);
}

/// The severity with its shape, in its place on the scale.
fn severity_ui(ui: &mut Ui, severity: Severity) {
    let p = theme::palette(ui);
    let (shape, color) = severity_look(ui, severity);
    ui.horizontal_top(|ui| {
        let (_, place) = ui.allocate_space(vec2(S16 + S4 + 2.0, theme::line_height(Size::Label)));
        mark(ui.painter(), pos2(place.left() + S8 - LINE, place.center().y), shape, color);
        let mut job = kit::job(severity.word(), Size::Label, Cut::Semi, color);
        job.append(Severity::SCALE, S8, theme::format(Size::Label, Cut::Regular, p.ink_second));
        ui.add(Label::new(job).wrap());
    });
}

/// What stands under the list once it was run: what else is wrong, whether the goal is reached, the reason.
fn after_ui(ui: &mut Ui, run: &SequenceRunView, result: &ResultView) {
    let p = theme::palette(ui);
    if run.works() {
        ui.add_space(S16);
        ui.horizontal(|ui| {
            let (_, place) = ui.allocate_space(vec2(S24, theme::line_height(Size::Body)));
            mark(ui.painter(), pos2(place.left() + S8, place.center().y), Mark::Tick, p.sea);
            label(ui, "It works: every line did its work, and the goal is reached.", Size::Body, Cut::Semi, p.ink);
        });
    }
    if run.failures.len() > 1 {
        ui.add_space(S16);
        heading(ui, "Also wrong, further down", Size::Label, Cut::Semi);
        for failure in run.failures.iter().skip(1) {
            later_ui(ui, run, failure);
        }
    }
    if !run.unmet.is_empty() {
        ui.add_space(S16);
        heading(ui, "The goal is not reached", Size::Label, Cut::Semi);
        for missing in &run.unmet {
            ui.add_space(S4);
            label_in(ui, READING, &missing.sentence(None), Size::Label, Cut::Regular, p.ink);
        }
    }
    because_ui(ui, result);
}

/// A failure after the first.
fn later_ui(ui: &mut Ui, run: &SequenceRunView, failure: &FailureView) {
    let p = theme::palette(ui);
    let (shape, color) = severity_look(ui, failure.severity);
    let words = failure.line.checked_sub(1).and_then(|n| run.lines.get(n)).map_or("", |l| l.words.as_str());
    ui.add_space(S8);
    ui.horizontal_top(|ui| {
        let (_, place) = ui.allocate_space(vec2(S24, theme::line_height(Size::Label)));
        mark(ui.painter(), pos2(place.left() + S8 - LINE, place.center().y), shape, color);
        ui.vertical(|ui| {
            let head = format!("Line {}, {words}: {}", failure.line, failure.severity.word().to_lowercase());
            label(ui, &head, Size::Label, Cut::Regular, p.ink);
            let more = format!("{} {}", failure.cause, failure.reason());
            label(ui, &more, Size::Label, Cut::Regular, p.ink_second);
        });
    });
}

/// A right order in the place of the facts.
fn right_order_ui(ui: &mut Ui, order: &RightOrder) {
    let p = theme::palette(ui);
    kit::list(ui, RIGHT_ORDER, order.words.len());
    for (n, words) in order.words.iter().enumerate() {
        let text = kit::lines(ui, words, ui.available_width() - S40, 6, Size::Label, Cut::Regular, p.ink);
        let (id, rect) = ui.allocate_space(vec2(ui.available_width(), RUN_ROW.max(text.size().y + S12)));
        let response = ui.interact(rect, id, Sense::hover());
        let said = format!("{}. {words}", n + 1);
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
        let top = rect.top() + (RUN_ROW - theme::line_height(Size::Label)) / 2.0;
        let at = pos2(rect.left() + S24 + S4, top + theme::line_height(Size::Label) / 2.0);
        paint(ui.painter(), at, Align2::RIGHT_CENTER, &(n + 1).to_string(), Size::Label, Cut::Mono, p.ink_second);
        ui.painter().galley(pos2(rect.left() + S40, top), text, p.ink);
        let y = ui.painter().round_to_pixel_center(rect.bottom() - LINE);
        ui.painter().hline(rect.x_range(), y, theme::hairline(ui));
    }
    if !order.note.is_empty() {
        ui.add_space(S8);
        label(ui, &order.note, Size::Small, Cut::Regular, p.ink_second);
    }
}
