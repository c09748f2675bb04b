//! A sitting looked at again, question by question.

use eframe::egui::{Ui, pos2, vec2};

use crate::present::Tone;
use crate::present::debrief::{TurnView, mark_tone, mark_word};
use crate::ui::kit::{Mark, heading, label, label_in, mark, rich};
use crate::ui::theme::measure::{PROMPT, S4, S8, S12, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// Draws one question with its answer and marks.
pub(super) fn replay_ui(ui: &mut Ui, (number, of): (usize, usize), turn: &TurnView) {
    let p = theme::palette(ui);
    ui.add_space(S8);
    let head = format!("{} · {number} of {of}", turn.asked);
    heading(ui, &head, Size::Label, Cut::Semi);
    ui.add_space(S8);
    if !turn.lead_in.is_empty() {
        label_in(ui, PROMPT, &turn.lead_in, Size::Body, Cut::Regular, p.ink_second);
    }
    rich(ui, &turn.ask, PROMPT, Size::Head, p.ink);
    ui.add_space(S16);
    heading(ui, "The answer", Size::Label, Cut::Semi);
    ui.add_space(S4);
    label_in(ui, PROMPT, &turn.given, Size::Body, Cut::Italic, p.ink);
    ui.add_space(S16);
    for point in &turn.marks {
        let tone = mark_tone(point);
        let shape = match tone {
            Tone::Good => Mark::Tick,
            Tone::Weak => Mark::WedgeDown,
            _ => Mark::Cross,
        };
        ui.horizontal_top(|ui| {
            let (_, place) = ui.allocate_space(vec2(S24, theme::line_height(Size::Body)));
            mark(ui.painter(), pos2(place.left() + S8, place.center().y), shape, theme::tone(ui, tone));
            let critical = if point.critical { ", safety-critical" } else { "" };
            let words = format!("{} ({}{critical})", point.say, mark_word(point));
            label_in(ui, PROMPT, &words, Size::Body, Cut::Regular, p.ink);
        });
    }
    ui.add_space(S12);
    label(ui, &format!("{}, {}, {}.", turn.came_to, turn.time, turn.by), Size::Label, Cut::Regular, p.ink_second);
    if !turn.note.is_empty() {
        label_in(ui, PROMPT, &format!("Note: {}", turn.note), Size::Label, Cut::Regular, p.ink);
    }
    if let Some(because) = &turn.because {
        ui.add_space(S12);
        heading(ui, "Because", Size::Label, Cut::Semi);
        ui.add_space(S4);
        rich(ui, because, PROMPT, Size::Body, p.ink);
        ui.add_space(S12);
    }
    label_in(ui, PROMPT, &format!("Source: {}", turn.source), Size::Label, Cut::Regular, p.ink_second);
}
