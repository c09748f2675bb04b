//! Headings over the parts of a deck being written.

use eframe::egui::{Align2, Ui, pos2};

use crate::domain::english;
use crate::domain::kinds::Kind;
use crate::ui::kit;
use crate::ui::theme::measure::S8;
use crate::ui::theme::{self, Cut, Size};

/// The word of a kind, with a capital.
pub(super) fn kind_word(kind: Kind) -> String {
    english::capital(kind.word())
}

/// A heading over a part of a column, with a note behind it.
pub(super) fn part_head(ui: &mut Ui, name: &str, note: &str) {
    let p = theme::palette(ui);
    let top = ui.cursor().min;
    let response = kit::heading(ui, name, Size::Label, Cut::Semi);
    if !note.is_empty() {
        let at = pos2(top.x + kit::width_of(ui, name, Size::Label, Cut::Semi) + S8, response.rect.center().y);
        kit::paint(ui.painter(), at, Align2::LEFT_CENTER, note, Size::Label, Cut::Regular, p.ink_second);
    }
    kit::list_rule(ui);
}
