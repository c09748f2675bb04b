//! Two computers of one learner: a profile's file is taken in, or written.

use eframe::egui::{Id, Ui, pos2, vec2};

use crate::app::program::command::{BringCommand, Command};
use crate::present::BringOverView;
use crate::present::bring_over::LookedView;
use crate::ui::keys;
use crate::ui::kit::{Act, Cell, Column, Field, Mark, Sheet, field, head_row, heading, label, label_in, mark, row};
use crate::ui::theme::measure::{READING, S4, S8, S24, TABLE_ROW};
use crate::ui::theme::{self, Cut, Size};

/// The paths in the fields, where they are not those that were offered.
#[derive(Default)]
pub struct BringOverLocal {
    file: String,
    to: Option<String>,
}

#[derive(Clone, PartialEq)]
enum BringAct {
    Look,
    Write,
    Take,
    Leave,
}

fn to_id() -> Id {
    Id::new("profile-file-to-write")
}

/// Draws the page.
pub fn bring_over_ui(ui: &mut Ui, view: &BringOverView, local: &mut BringOverLocal) -> Option<Command> {
    let acts = acts(ui, view, local);
    let sheet = Sheet { framed: false, block: None, folded: false, scroll: "bring over" };
    let (clicked, act) = sheet.show(ui, &acts, |ui| content_ui(ui, view, local));
    let bring = |command| Some(Command::Bring(command));
    if let Some(file) = clicked {
        local.file.clone_from(&file);
        return bring(BringCommand::LookInto(file));
    }
    match act? {
        BringAct::Look => bring(BringCommand::LookInto(local.file.clone())),
        BringAct::Write => bring(BringCommand::WriteOut(to(view, local))),
        BringAct::Take => bring(BringCommand::TakeIn),
        BringAct::Leave => bring(BringCommand::Leave),
    }
}

fn to(view: &BringOverView, local: &BringOverLocal) -> String {
    local.to.clone().unwrap_or_else(|| view.write_to.clone())
}

fn acts(ui: &Ui, view: &BringOverView, local: &BringOverLocal) -> Vec<Act<BringAct>> {
    let free = view.busy.is_none();
    let leave = |hot| Act::other("Leave it", hot, BringAct::Leave).when(free);
    if let Some(looked) = &view.looked {
        return match &looked.question {
            None if looked.nothing => vec![Act::primary("Leave it", keys::ENTER, BringAct::Leave).when(free)],
            None => {
                vec![Act::primary("Bring it in", keys::ENTER, BringAct::Take).when(free), leave(keys::letter('L'))]
            }
            Some(_) => vec![
                Act::primary("Leave it", keys::ENTER, BringAct::Leave).when(free),
                Act::other("Bring in another learner’s answers", keys::letter('B'), BringAct::Take).when(free),
            ],
        };
    }
    let (can_look, can_write) = (!local.file.trim().is_empty(), !to(view, local).trim().is_empty());
    if ui.memory(|m| m.has_focus(to_id())) {
        return vec![Act::primary("Write the file", keys::ENTER, BringAct::Write).when(free && can_write)];
    }
    vec![
        Act::primary("Look into the file", keys::ENTER, BringAct::Look).when(free && can_look),
        Act::other("Write the file", keys::letter('W'), BringAct::Write).when(free && can_write),
    ]
}

/// A file that was found and clicked, if any.
fn content_ui(ui: &mut Ui, view: &BringOverView, local: &mut BringOverLocal) -> Option<String> {
    let p = theme::palette(ui);
    ui.add_space(S8);
    heading(ui, "Bring over", Size::Head, Cut::Semi);
    ui.add_space(S4);
    let words = "What you learned on another computer comes in by a file, on a stick say, and what you learned here \
                 goes out the same way. Both can be done again and again, in any order.";
    label_in(ui, READING, words, Size::Body, Cut::Regular, p.ink_second);
    ui.add_space(S24);
    if let Some(looked) = &view.looked {
        looked_ui(ui, looked);
        busy_ui(ui, view);
        return None;
    }
    heading(ui, "Take in", Size::Body, Cut::Semi);
    ui.add_space(S8);
    let spec = Field {
        hint: "Type its path, or drop the file on this window",
        ..Field::line(Id::new("profile-file-to-take-in"), "File to take in", READING)
    };
    field(ui, &spec, &mut local.file);
    let clicked = found_ui(ui, view);
    ui.add_space(S24);
    heading(ui, "Write out", Size::Body, Cut::Semi);
    ui.add_space(S8);
    let mut path = to(view, local);
    if field(ui, &Field::line(to_id(), "File to write", READING), &mut path).changed() {
        local.to = Some(path);
    }
    ui.add_space(S4);
    let words = "The file holds every answer, with the words of typed ones, your sittings and your settings. Recordings \
                 stay here.";
    label_in(ui, READING, words, Size::Label, Cut::Regular, p.ink_second);
    busy_ui(ui, view);
    clicked
}

fn found_ui(ui: &mut Ui, view: &BringOverView) -> Option<String> {
    let p = theme::palette(ui);
    if view.found.is_empty() {
        return None;
    }
    ui.add_space(S8);
    label(ui, "Found here:", Size::Label, Cut::Regular, p.ink_second);
    let mut clicked = None;
    for path in &view.found {
        let said = format!("Look into {path}");
        if row(ui, &[Column::Share(1.0)], &[Cell::text(path)], TABLE_ROW, (true, false), &said).clicked() {
            clicked = Some(path.clone());
        }
    }
    clicked
}

fn busy_ui(ui: &mut Ui, view: &BringOverView) {
    if let Some(busy) = &view.busy {
        ui.add_space(S8);
        label(ui, busy, Size::Label, Cut::Regular, theme::palette(ui).ink_second);
    }
}

fn looked_ui(ui: &mut Ui, looked: &LookedView) {
    let p = theme::palette(ui);
    heading(ui, &looked.whose, Size::Body, Cut::Semi);
    ui.add_space(S4);
    label_in(ui, READING, &looked.file, Size::Label, Cut::Mono, p.ink_second);
    ui.add_space(S8);
    if let Some(question) = &looked.question {
        ui.horizontal_top(|ui| {
            let (_, place) = ui.allocate_space(vec2(S24, theme::line_height(Size::Body)));
            mark(ui.painter(), pos2(place.left() + S8, place.center().y), Mark::WedgeUp, p.amber);
            ui.vertical(|ui| label_in(ui, READING - S24, question, Size::Body, Cut::Semi, p.ink));
        });
        ui.add_space(S8);
    }
    let columns = [Column::Share(2.0), Column::Share(1.0), Column::Share(1.0)];
    head_row(ui, &columns, &["", "Would come", "There already"]);
    for comes in &looked.rows {
        let cells = [Cell::text(&comes.what), Cell::figure(&comes.new), Cell::figure(&comes.there)];
        let said = format!("{}: {} would come, {} there already", comes.what, comes.new, comes.there);
        row(ui, &columns, &cells, TABLE_ROW, (false, false), &said);
    }
    ui.add_space(S8);
    label_in(ui, READING, &looked.settings, Size::Body, Cut::Regular, p.ink);
    if looked.nothing {
        label_in(ui, READING, "Nothing in it is new here.", Size::Body, Cut::Regular, p.ink);
    }
}
