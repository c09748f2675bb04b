//! What an edition has changed of a card, old beside new, once it is answered.

use eframe::egui::{Rect, Ui, UiBuilder, pos2, vec2};

use crate::present::editions::{ChangedLine, ChangedPart, ChangedView};
use crate::ui::keys;
use crate::ui::kit::{self, Act, Room, Sheet, heading, label_in, wedge_in_margin};
use crate::ui::theme::measure::{S4, S8, S12, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// The changed parts on a sheet of their own, for cards that leave no room for them; true when it is put away.
pub(crate) fn changed_sheet_ui(ui: &mut Ui, changed: &ChangedView) -> bool {
    let acts = [Act::primary("Back to the card", keys::ENTER, ())];
    let escape = keys::take(ui, keys::ESC);
    let sheet = Sheet { framed: true, block: None, folded: false, scroll: "changed" };
    let ((), act) = sheet.show(ui, &acts, |ui| changed_ui(ui, changed));
    act.is_some() || escape
}

/// What was changed, under an answer; nothing before it.
pub(crate) fn changed_ui(ui: &mut Ui, changed: &ChangedView) {
    let Some(parts) = &changed.parts else { return };
    let p = theme::palette(ui);
    ui.add_space(S24);
    heading(ui, &changed.heading, Size::Body, Cut::Semi);
    if parts.is_empty() {
        ui.add_space(S4);
        let text = "What it asked before is no longer at hand.";
        label_in(ui, f32::INFINITY, text, Size::Label, Cut::Regular, p.ink_second);
    }
    for part in parts {
        part_ui(ui, part);
    }
    ui.add_space(S12);
}

/// One part: its name, and the two sides beside each other, or one under the other where it is narrow.
fn part_ui(ui: &mut Ui, part: &ChangedPart) {
    let p = theme::palette(ui);
    ui.add_space(S12);
    heading(ui, &part.what, Size::Label, Cut::Semi);
    ui.add_space(S4);
    if part.was.is_empty() && part.is.is_empty() {
        label_in(ui, f32::INFINITY, "It is another.", Size::Label, Cut::Regular, p.ink);
        return;
    }
    let whole = ui.available_rect_before_wrap();
    if kit::room(ui.ctx()) == Room::Tiny {
        side_ui(ui, "Before", &part.was);
        ui.add_space(S8);
        side_ui(ui, "Now", &part.is);
        return;
    }
    let width = (whole.width() - S24) / 2.0;
    let mut bottom = whole.top();
    for (left, name, lines) in [(whole.left(), "Before", &part.was), (whole.left() + width + S24, "Now", &part.is)] {
        let place = Rect::from_min_size(pos2(left, whole.top()), vec2(width, whole.height()));
        let mut child = ui.new_child(UiBuilder::new().id_salt((&part.what, name)).max_rect(place));
        side_ui(&mut child, name, lines);
        bottom = bottom.max(child.min_rect().bottom());
    }
    ui.allocate_rect(Rect::from_min_max(whole.min, pos2(whole.right(), bottom)), eframe::egui::Sense::hover());
}

fn side_ui(ui: &mut Ui, name: &str, lines: &[ChangedLine]) {
    let p = theme::palette(ui);
    label_in(ui, f32::INFINITY, name, Size::Small, Cut::Regular, p.ink_second);
    if lines.is_empty() {
        label_in(ui, f32::INFINITY, "–", Size::Label, Cut::Regular, p.ink_second);
    }
    for line in lines {
        ui.add_space(S4);
        // What stands on both sides is quiet; what is another is not told by its colour alone.
        let (cut, ink) = if line.differs { (Cut::Semi, p.ink) } else { (Cut::Regular, p.ink_second) };
        let critical = if line.critical { " (safety-critical)" } else { "" };
        let left = ui.cursor().left();
        ui.horizontal_top(|ui| {
            ui.add_space(S16);
            let text = format!("{}{critical}", line.text);
            let response = label_in(ui, f32::INFINITY, &text, Size::Label, cut, ink);
            if line.critical {
                let row = Rect::from_min_size(
                    pos2(left + S16, response.rect.top()),
                    vec2(S16, theme::line_height(Size::Label)),
                );
                wedge_in_margin(ui, row);
            }
        });
    }
}
