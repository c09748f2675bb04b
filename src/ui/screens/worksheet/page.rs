//! The worksheet that stands outside of any card: the same lines, and beside them how a line is written.

use eframe::egui::{Align2, Rect, Ui, UiBuilder, pos2, vec2};

use crate::app::program::command::Command;
use crate::present::WorksheetPageView;
use crate::present::worksheet::Written;
use crate::ui::keys::{self, KeyLine};
use crate::ui::kit::{self, Act, Room, Sheet, heading};
use crate::ui::screens::worksheet::lines::{self, WorksheetLocal};
use crate::ui::screens::worksheet::rows::named;
use crate::ui::screens::worksheet::worksheet_ui;
use crate::ui::theme::measure::{GIVEN_FOLDED, MANUAL, PROMPT, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// Drafts of the page.
#[derive(Default)]
pub struct WorksheetPageLocal {
    sheet: WorksheetLocal,
}

/// Draws the page.
pub fn worksheet_page_ui(ui: &mut Ui, view: &WorksheetPageView, local: &mut WorksheetPageLocal) -> Option<Command> {
    local.sheet.follow(&view.sheet, "");
    let something = !local.sheet.written().is_empty();
    let acts = [Act::other("Clear the sheet", keys::CTRL_L, ()).when(something)];
    let sheet = Sheet { framed: false, block: None, folded: false, scroll: "worksheet" };
    let (command, cleared) = sheet.show(ui, &acts, |ui| columns_ui(ui, view, local));
    if cleared.is_some() {
        local.sheet.clear();
    }
    command
}

fn columns_ui(ui: &mut Ui, view: &WorksheetPageView, local: &mut WorksheetPageLocal) -> Option<Command> {
    let room = kit::room(ui.ctx());
    ui.add_space(S8);
    if room == Room::Tiny {
        let command = worksheet_ui(ui, &view.sheet, &mut local.sheet, None).work.map(Command::EditWorksheet);
        ui.add_space(S16);
        manual_ui(ui, view);
        return command;
    }
    let (beside, gap) = if room == Room::Full { (MANUAL, S40) } else { (GIVEN_FOLDED, S24) };
    let (top, width) = (ui.cursor().min, ui.available_width());
    let left = Rect::from_min_size(top, vec2((width - beside - gap).min(PROMPT), f32::INFINITY));
    let right = Rect::from_min_size(pos2(top.x + width - beside, top.y), vec2(beside, f32::INFINITY));
    let mut child = ui.new_child(UiBuilder::new().id_salt("work").max_rect(left));
    let command = worksheet_ui(&mut child, &view.sheet, &mut local.sheet, None).work.map(Command::EditWorksheet);
    let mut other = ui.new_child(UiBuilder::new().id_salt("manual").max_rect(right));
    manual_ui(&mut other, view);
    let bottom = child.min_rect().bottom().max(other.min_rect().bottom());
    ui.allocate_space(vec2(width, bottom - ui.cursor().top()));
    command
}

/// How a line is written, and the functions that are known.
fn manual_ui(ui: &mut Ui, view: &WorksheetPageView) {
    let p = theme::palette(ui);
    heading(ui, "How a line is written", Size::Label, Cut::Semi);
    ui.add_space(S8);
    for Written { text, what } in &view.examples {
        kit::label(ui, text, Size::Label, Cut::Mono, p.ink);
        kit::label(ui, what, Size::Small, Cut::Regular, p.ink_second);
        ui.add_space(S4);
    }
    ui.add_space(S16);
    heading(ui, "Functions", Size::Label, Cut::Semi);
    ui.add_space(S8);
    let names = view.functions.iter().map(|f| kit::width_of(ui, &f.text, Size::Small, Cut::Mono)).fold(0.0, f32::max);
    for Written { text: written, what } in &view.functions {
        let (left, width) = (ui.cursor().left() + names + S12, ui.available_width() - names - S12);
        let what_lines = kit::lines(ui, what, width, 3, Size::Small, Cut::Regular, p.ink_second);
        let (id, row) = ui.allocate_space(vec2(ui.available_width(), what_lines.size().y + S4));
        named(ui, row, id, &format!("{written}: {what}"), false);
        kit::paint(ui.painter(), row.min, Align2::LEFT_TOP, written, Size::Small, Cut::Mono, p.ink);
        ui.painter().galley(pos2(left, row.top()), what_lines, p.ink_second);
    }
    ui.add_space(S12);
}

/// The keys of the page that are no action's.
pub fn key_lines() -> Vec<KeyLine> {
    lines::KEYS.to_vec()
}
