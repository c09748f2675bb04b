//! What this is, with the caution in full and the licences.

use eframe::egui::{Ui, pos2, vec2};

use crate::app::program::command::Command;
use crate::present::AboutView;
use crate::present::first_run::CAUTION;
use crate::ui::kit::{Act, Cell, Column, Mark, Sheet, head_row, heading, label_in, mark, row};
use crate::ui::theme::measure::{LIST_ROW, READING, S4, S8, S12, S24};
use crate::ui::theme::{self, Cut, Size};

/// Draws it.
pub fn about_ui(ui: &mut Ui, view: &AboutView) -> Option<Command> {
    let sheet = Sheet { framed: false, block: None, folded: false, scroll: "about" };
    let acts: [Act<Command>; 0] = [];
    sheet.show(ui, &acts, |ui| content_ui(ui, view));
    None
}

fn content_ui(ui: &mut Ui, view: &AboutView) {
    let p = theme::palette(ui);
    ui.add_space(S8);
    heading(ui, &format!("Bedplate {}", view.version), Size::Head, Cut::Semi);
    for paragraph in &view.what {
        ui.add_space(S8);
        label_in(ui, READING, paragraph, Size::Body, Cut::Regular, p.ink);
    }
    ui.add_space(S24);
    ui.horizontal(|ui| {
        let (_, place) = ui.allocate_space(vec2(S24, theme::line_height(Size::Body)));
        mark(ui.painter(), pos2(place.left() + S8, place.center().y), Mark::WedgeUp, p.amber);
        heading(ui, "Caution", Size::Body, Cut::Semi);
    });
    for paragraph in CAUTION {
        ui.add_space(S8);
        label_in(ui, READING, paragraph, Size::Body, Cut::Regular, p.ink);
    }
    ui.add_space(S24);
    heading(ui, "Where your records lie", Size::Body, Cut::Semi);
    ui.add_space(S4);
    label_in(ui, f32::INFINITY, &view.folder, Size::Label, Cut::Mono, p.ink);
    ui.add_space(S4);
    let words = "They stay on this computer. The program has no connection to any network.";
    label_in(ui, READING, words, Size::Label, Cut::Regular, p.ink_second);
    ui.add_space(S24);
    heading(ui, "Licences", Size::Body, Cut::Semi);
    ui.add_space(S4);
    let columns = [Column::Share(1.0), Column::Share(1.0), Column::Share(1.0)];
    head_row(ui, &columns, &["What", "Licence", "Whose"]);
    for licence in &view.licences {
        let cells = [Cell::text(&licence.what), Cell::figure(&licence.licence), Cell::quiet(&licence.whose)];
        let said = format!("{}: {}, {}", licence.what, licence.licence, licence.whose);
        row(ui, &columns, &cells, LIST_ROW, (false, false), &said);
    }
    ui.add_space(S12);
}
