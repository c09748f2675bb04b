//! Parts of a sitting: the thread, the clocks, the ways to answer.

use eframe::egui::{Align, Align2, Rect, ScrollArea, Sense, Stroke, Ui, WidgetInfo, WidgetType, pos2, vec2};

use crate::app::command::Command;
use crate::domain::oral::Way;
use crate::present::oral::{ClockView, FunctionAsked, ThreadRow};
use crate::present::{OralView, Tone, words};
use crate::ui::keys::{self, Held};
use crate::ui::kit::{self, Mark, heading, label, lines, mark, paint_in};
use crate::ui::theme::measure::{FOCUS, LINE, LIST_ROW, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// How long the conversation was when it was last drawn.
#[derive(Default)]
pub(super) struct ThreadLocal {
    rows: usize,
}

/// The height of the ways to answer.
pub(super) const WAYS: f32 = S24 + S8;

/// The conversation so far as an indented thread, the question that stands last.
pub(super) fn thread_ui(ui: &mut Ui, rows: &[ThreadRow], local: &mut ThreadLocal, page: f32) {
    heading(ui, "So far", Size::Label, Cut::Semi);
    ui.add_space(S8);
    // The question that stands comes into sight once; from then on the column is the reader's.
    let grown = std::mem::replace(&mut local.rows, rows.len()) != rows.len();
    let area = ScrollArea::vertical().id_salt("oral-thread").auto_shrink(false);
    area.show(ui, |ui| {
        ui.scroll_with_delta(vec2(0.0, -page));
        ui.set_width(ui.available_width() - S8);
        rows_ui(ui, rows);
        if grown {
            ui.scroll_to_cursor(Some(Align::BOTTOM));
        }
    });
}

fn rows_ui(ui: &mut Ui, rows: &[ThreadRow]) {
    let p = theme::palette(ui);
    for (at, row) in rows.iter().enumerate() {
        let indent = S16 * f32::from(row.depth) + if row.depth > 0 { S4 } else { 0.0 };
        let width = ui.available_width() - indent;
        let (ink, cut) = if row.now { (p.bronze, Cut::Semi) } else { (p.ink, Cut::Regular) };
        let ask = lines(ui, &row.ask, width, 3, Size::Label, cut, ink);
        let mark_width = if shape(row).is_some() { S16 } else { 0.0 };
        let word = lines(ui, &row.word, width - mark_width, 1, Size::Small, Cut::Regular, p.ink_second);
        let gap = if row.depth == 0 && at > 0 { S16 } else { S8 };
        ui.add_space(gap);
        let (id, rect) = ui.allocate_space(vec2(ui.available_width(), ask.size().y + word.size().y));
        let response = ui.interact(rect, id, Sense::hover());
        let level = if row.depth == 0 { "Lead question" } else { "Follow-up" };
        let said = format!("{level}: {} {}", row.ask, row.word);
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
        let left = rect.left() + indent;
        if row.depth > 0 {
            let x = ui.painter().round_to_pixel_center(left - S16);
            let y = ui.painter().round_to_pixel_center(rect.top() + S12);
            let stroke = Stroke::new(LINE, if row.now { p.bronze } else { p.line });
            ui.painter().vline(x, (rect.top() - S4)..=y, stroke);
            ui.painter().hline(x..=(left - S4), y, stroke);
        }
        let height = ask.size().y;
        ui.painter().galley(pos2(left, rect.top()), ask, ink);
        if let Some(shape) = shape(row) {
            let at = pos2(left + S4, rect.top() + height + word.size().y / 2.0);
            mark(ui.painter(), at, shape, theme::tone(ui, row.tone));
        }
        ui.painter().galley(pos2(left + mark_width, rect.top() + height), word, p.ink_second);
    }
}

fn shape(row: &ThreadRow) -> Option<Mark> {
    match row.tone {
        _ if row.now => None,
        Tone::Good => Some(Mark::Tick),
        Tone::Weak => Some(Mark::WedgeDown),
        Tone::Bad => Some(Mark::WedgeRight),
        _ => None,
    }
}

/// Both clocks and the questions so far, under each other.
pub(super) fn clocks_ui(ui: &mut Ui, view: &OralView) {
    let p = theme::palette(ui);
    heading(ui, "This answer", Size::Label, Cut::Semi);
    clock_ui(ui, view.answer, Size::Big, "This answer");
    ui.add_space(S24);
    heading(ui, "This sitting", Size::Label, Cut::Semi);
    clock_ui(ui, view.sitting, Size::Head, "This sitting");
    ui.add_space(S24);
    heading(ui, "Questions so far", Size::Label, Cut::Semi);
    ui.add_space(S4);
    let top = ui.cursor().top();
    ui.painter().hline(ui.max_rect().x_range(), ui.painter().round_to_pixel_center(top), theme::hairline(ui));
    for FunctionAsked { name, asked, of } in &view.functions {
        let (id, rect) = ui.allocate_space(vec2(ui.available_width(), LIST_ROW));
        let response = ui.interact(rect, id, Sense::hover());
        let said = format!("{name}: {asked} of {of}");
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
        let count = format!("{asked} of {of}");
        let right =
            kit::paint(ui.painter(), rect.right_center(), Align2::RIGHT_CENTER, &count, Size::Label, Cut::Mono, p.ink);
        let galley = lines(ui, name, right.left() - rect.left() - S8, 1, Size::Label, Cut::Regular, p.ink);
        ui.painter().galley(Align2::LEFT_CENTER.align_size_within_rect(galley.size(), rect).min, galley, p.ink);
        let y = ui.painter().round_to_pixel_center(rect.bottom() - LINE);
        ui.painter().hline(rect.x_range(), y, theme::hairline(ui));
    }
}

fn clock_ui(ui: &mut Ui, ClockView { seconds, of }: ClockView, size: Size, name: &str) {
    let p = theme::palette(ui);
    let over = seconds > of;
    let color = if over { p.amber } else { p.ink };
    label(ui, &words::clock(seconds), size, Cut::Mono, color);
    let words_ = if over {
        format!("{} over {}", words::clock(seconds - of), words::clock(of))
    } else {
        format!("of {}", words::clock(of))
    };
    ui.horizontal(|ui| {
        if over {
            let (_, place) = ui.allocate_space(vec2(S16, theme::line_height(Size::Label)));
            mark(ui.painter(), place.center(), Mark::WedgeUp, p.amber);
        }
        label(ui, &words_, Size::Label, Cut::Mono, p.ink_second);
    });
    let (id, rect) = ui.allocate_space(vec2(ui.available_width(), S24));
    let response = ui.interact(rect, id.with(name), Sense::hover());
    let said = format!("{name}: {} {words_}", words::clock(seconds));
    response.widget_info(|| WidgetInfo::labeled(WidgetType::ProgressIndicator, true, &said));
    kit::time_bar(ui, rect, seconds as f32 / of.max(1) as f32);
}

/// Question, clocks and lead-in in one line.
pub(super) fn clocks_line_ui(ui: &Ui, band: Rect, view: &OralView) {
    let p = theme::palette(ui);
    let time = |ClockView { seconds, of }: ClockView| format!("{} of {}", words::clock(seconds), words::clock(of));
    let over = view.answer.seconds > view.answer.of;
    let clocks = if kit::room(ui.ctx()) == kit::Room::Tiny {
        format!("{} · {} of {} min", time(view.answer), view.sitting.seconds / 60, view.sitting.of / 60)
    } else {
        format!("{}  ·  sitting {}", time(view.answer), time(view.sitting))
    };
    let color = if over { p.amber } else { p.ink };
    let placed = paint_in(ui, band, Align2::RIGHT_CENTER, &clocks, Size::Label, Cut::Mono, color);
    let left = band.with_max_x(placed.left() - S16);
    let word = paint_in(ui, left, Align2::LEFT_CENTER, &view.asked, Size::Label, Cut::Semi, p.ink);
    let rest = left.with_min_x(word.right() + S8);
    let over = if over { " · over the time" } else { "" };
    let more = format!("· {}{over} {}", view.number, view.lead_in);
    paint_in(ui, rest, Align2::LEFT_CENTER, &more, Size::Label, Cut::Regular, p.ink_second);
}

/// The three ways to answer, the chosen one underlined.
pub(super) fn ways_ui(ui: &mut Ui, way: Way) -> Option<Command> {
    let p = theme::palette(ui);
    let mut command = None;
    ui.horizontal_wrapped(|ui| {
        for (name, hot, of) in [
            ("Speak", keys::SPEAK, Way::Speak),
            ("Type", keys::WRITE, Way::Write),
            ("Second person marks", keys::SECOND, Way::Second),
        ] {
            let chosen = way == of;
            let cut = if chosen { Cut::Semi } else { Cut::Regular };
            let words = kit::width_of(ui, name, Size::Label, cut);
            let (id, rect) = ui.allocate_space(vec2(words + S8 + S40, WAYS));
            let response = ui.interact(rect, id, Sense::click());
            response.widget_info(|| WidgetInfo::selected(WidgetType::RadioButton, true, chosen, name));
            if response.has_focus() {
                keys::note(ui.ctx(), id, Held::Choice);
            }
            let ink = if chosen || response.hovered() { p.ink } else { p.ink_second };
            let placed = kit::paint(ui.painter(), rect.left_center(), Align2::LEFT_CENTER, name, Size::Label, cut, ink);
            kit::key_box(ui, pos2(placed.right() + S8, rect.center().y), hot.face, p.ink_second, p.line);
            if chosen {
                let y = rect.bottom() - LINE;
                ui.painter().hline(placed.x_range(), y, Stroke::new(FOCUS, p.bronze));
            }
            kit::ring_focus(ui, &response, rect);
            if response.clicked() && !chosen {
                command = Some(Command::AnswerBy(of));
            }
            ui.add_space(S8);
        }
    });
    command
}
