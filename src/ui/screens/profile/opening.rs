//! Before there is anything to show: one quiet sentence on an empty sheet.

use eframe::egui::Ui;

use crate::ui::kit::{Act, Sheet, label};
use crate::ui::theme::measure::S16;
use crate::ui::theme::{self, Cut, Size};

/// Draws it.
pub fn opening_ui(ui: &mut Ui) {
    let sheet = Sheet { framed: true, block: None, folded: false, scroll: "opening" };
    let acts: [Act<()>; 0] = [];
    sheet.show(ui, &acts, |ui| {
        ui.add_space(S16);
        let quiet = theme::palette(ui).ink_second;
        label(ui, "Reading the decks and opening the profile …", Size::Body, Cut::Regular, quiet);
    });
}
