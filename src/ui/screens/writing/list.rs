//! The cards of a deck being written, each with its worst problem.

use eframe::egui::{Align2, Sense, Ui, vec2};

use crate::app::program::command::{Command, WritingCommand};
use crate::domain::english;
use crate::present::library::Severity;
use crate::present::words;
use crate::present::writing::{WriteDeskView, WrittenRow};
use crate::ui::kit::{self, Cell, Column, Mark, label_in, paint_in, row};
use crate::ui::screens::writing::heads::part_head;
use crate::ui::theme::measure::{GIVEN_ROW, LINE, READING, S4, S12, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// Draws the list; the row in hand is brought into sight where it has just been moved to.
pub(super) fn list_ui(ui: &mut Ui, view: &WriteDeskView, moved: bool) -> Option<Command> {
    let p = theme::palette(ui);
    part_head(ui, "Cards", &view.cards.len().to_string());
    if view.cards.is_empty() {
        ui.add_space(S4);
        let words = if view.reading { "The deck is being read …" } else { "No card yet. Begin one with N." };
        label_in(ui, READING, words, Size::Label, Cut::Regular, p.ink_second);
    }
    let mut command = None;
    ui.horizontal_top(|ui| {
        ui.add_space(S12);
        ui.vertical(|ui| {
            for (at, card) in view.cards.iter().enumerate() {
                if let Some(section) = &card.section {
                    section_ui(ui, section);
                }
                let response = ui.push_id(at, |ui| card_ui(ui, card, at == view.chosen)).inner;
                if moved && at == view.chosen {
                    response.scroll_to_me(None);
                }
                if response.clicked() {
                    command = Some(Command::Writing(WritingCommand::Choose(at)));
                }
            }
        });
    });
    command
}

fn section_ui(ui: &mut Ui, name: &str) {
    let p = theme::palette(ui);
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), GIVEN_ROW));
    ui.painter().rect_filled(rect.expand2(vec2(S12, 0.0)).with_max_x(rect.right()), 0, p.raised);
    let line = ui.painter().round_to_pixel_center(rect.bottom() - LINE);
    ui.painter().hline(rect.x_range(), line, theme::hairline(ui));
    paint_in(ui, rect, Align2::LEFT_CENTER, name, Size::Label, Cut::Semi, p.ink);
}

/// The mark of a problem, and the words for whoever hears the page.
fn told(card: &WrittenRow) -> (Option<Mark>, &'static str) {
    match card.worst {
        Some(Severity::Error) => (Some(Mark::WedgeDown), ", error"),
        Some(Severity::Warning) => (Some(Mark::WedgeDown), ", warning"),
        Some(Severity::Advice) => (Some(Mark::Ring), ", advice"),
        None => (None, ""),
    }
}

fn card_ui(ui: &mut Ui, card: &WrittenRow, current: bool) -> eframe::egui::Response {
    let (mark, problem) = told(card);
    let tone = card.worst.map(Severity::tone).unwrap_or_default();
    let stale = if card.stale { ", as last read" } else { "" };
    let said = format!("{}, {}{problem}{stale}", card.name, english::capital(card.kind.word()));
    let kind = if card.stale { "as last read" } else { card.kind.word() };
    let columns = [Column::Text(S12), Column::Share(1.0), Column::Text(if card.stale { S40 + S40 } else { S24 * 2.0 + S12 })];
    let cells = [
        Cell::text("").toned(tone).marked(mark),
        Cell { strong: current, ..Cell::text(&card.name) },
        Cell::quiet(kind),
    ];
    ui.spacing_mut().item_spacing.x = 0.0;
    row(ui, &columns, &cells, GIVEN_ROW, (true, current), &said)
}

/// Which card of how many is in hand, in one line.
pub(super) fn one_line_ui(ui: &mut Ui, view: &WriteDeskView) -> Option<Command> {
    let p = theme::palette(ui);
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), GIVEN_ROW));
    let at = if view.cards.is_empty() { 0 } else { view.chosen + 1 };
    let words = format!("Card {at} of {}, {}", view.cards.len(), words::count(view.problems.len(), "problem"));
    paint_in(ui, rect, Align2::LEFT_CENTER, &words, Size::Label, Cut::Semi, p.ink);
    ui.interact(rect, ui.id().with("which"), Sense::hover());
    kit::list_rule(ui);
    None
}
