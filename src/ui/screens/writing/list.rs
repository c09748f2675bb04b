//! The cards of a deck being written, each with its worst problem.

use eframe::egui::{Align2, CursorIcon, Rect, Response, Sense, Ui, WidgetInfo, WidgetType, pos2, vec2};

use crate::app::program::command::{Command, WritingCommand};
use crate::domain::english;
use crate::present::words;
use crate::present::writing::{WriteDeskView, WrittenRow};
use crate::ui::keys::{self, Held};
use crate::ui::kit::{self, Mark, label_in, lines, mark, paint, paint_in, ring_focus};
use crate::ui::screens::writing::heads::part_head;
use crate::ui::theme::measure::{GIVEN_ROW, LINE, MARK, READING, S4, S8, S12, S16};
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

fn card_ui(ui: &mut Ui, card: &WrittenRow, current: bool) -> Response {
    let p = theme::palette(ui);
    let problem = card.worst.map_or_else(String::new, |worst| format!(", {}", worst.word()));
    let stale = if card.stale { ", as last read" } else { "" };
    let said = format!("{}, {}{problem}{stale}", card.name, english::capital(card.kind.word()));
    let (id, rect) = ui.allocate_space(vec2(ui.available_width(), GIVEN_ROW));
    let response = ui.interact(rect, id, Sense::click());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &said));
    if response.has_focus() {
        keys::note(ui.ctx(), id, Held::Button);
    }
    let ground = rect.with_min_x(rect.left() - S12);
    if current || response.hovered() {
        ui.painter().rect_filled(ground, 0, p.raised);
    }
    if current {
        let bar = Rect::from_min_size(ground.min, vec2(MARK, ground.height()));
        ui.painter().rect_filled(bar, 0, p.bronze);
    }
    if let Some(worst) = card.worst {
        let tone = theme::tone(ui, worst.tone());
        mark(ui.painter(), pos2(rect.left() + S4, rect.center().y), Mark::WedgeDown, tone);
    }
    let right = pos2(rect.right() - S4, rect.center().y);
    let word = if card.stale { "as last read" } else { card.kind.word() };
    let kind = paint(ui.painter(), right, Align2::RIGHT_CENTER, word, Size::Small, Cut::Regular, p.ink_second);
    let place = Rect::from_min_max(pos2(rect.left() + S16, rect.top()), pos2(kind.left() - S8, rect.bottom()));
    let cut = if current { Cut::Semi } else { Cut::Regular };
    let galley = lines(ui, &card.name, place.width(), 1, Size::Label, cut, p.ink);
    ui.painter().galley(Align2::LEFT_CENTER.align_size_within_rect(galley.size(), place).min, galley, p.ink);
    let line = ui.painter().round_to_pixel_center(rect.bottom() - LINE);
    ui.painter().hline(place.left()..=rect.right(), line, theme::hairline(ui));
    ring_focus(ui, &response, rect);
    response.on_hover_cursor(CursorIcon::PointingHand)
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
