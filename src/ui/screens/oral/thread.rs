//! The conversation so far, as an indented thread.

use eframe::egui::{Align, ScrollArea, Sense, Stroke, Ui, WidgetInfo, WidgetType, pos2, vec2};

use crate::present::Tone;
use crate::present::oral::ThreadRow;
use crate::ui::kit::{Mark, heading, lines, mark};
use crate::ui::theme::measure::{LINE, S4, S8, S12, S16};
use crate::ui::theme::{self, Cut, Size};

/// How long the conversation was when it was last drawn.
#[derive(Default)]
pub(super) struct ThreadLocal {
    rows: usize,
}

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
