//! What an edition of a deck brought: what is changed, new, renamed, withdrawn, and what each does to memory.

use eframe::egui::Ui;

use crate::app::program::command::{Command, LibraryCommand};
use crate::app::program::route::Route;
use crate::present::EditionView;
use crate::present::editions::{EditionGroup, EditionRow};
use crate::ui::keys;
use crate::ui::kit::{Act, Cell, Column, Room, Sheet, heading, label_in, room, row};
use crate::ui::theme::measure::{LIST_ROW, PROMPT, S4, S8, S12, S24};
use crate::ui::theme::{self, Cut, Size};

/// Draws what an edition brought.
pub fn edition_ui(ui: &mut Ui, view: &EditionView) -> Option<Command> {
    let seen = Command::Library(LibraryCommand::EditionSeen);
    let on = match (view.fresh, view.more) {
        (true, 0) => Act::primary("To the watch", keys::ENTER, seen),
        (true, _) => Act::primary("To the next deck", keys::ENTER, seen),
        (false, _) => Act::primary("Back to the deck", keys::ENTER, Command::Go(Route::Deck(view.deck.clone()))),
    };
    let sheet = Sheet { framed: true, block: Some(&view.block), folded: false, scroll: "edition" };
    let ((), act) = sheet.show(ui, &[on], |ui| content_ui(ui, view));
    act
}

fn content_ui(ui: &mut Ui, view: &EditionView) {
    let p = theme::palette(ui);
    ui.add_space(S12);
    heading(ui, &view.headline, if room(ui.ctx()) == Room::Tiny { Size::Head } else { Size::Prompt }, Cut::Semi);
    ui.add_space(S4);
    label_in(ui, PROMPT, &view.title, Size::Body, Cut::Regular, p.ink);
    ui.add_space(S4);
    label_in(ui, PROMPT, &view.sentence, Size::Body, Cut::Regular, p.ink_second);
    for group in &view.groups {
        group_ui(ui, group);
    }
    ui.add_space(S12);
}

fn group_ui(ui: &mut Ui, group: &EditionGroup) {
    let p = theme::palette(ui);
    ui.add_space(S24);
    heading(ui, &group.heading, Size::Body, Cut::Semi);
    ui.add_space(S4);
    label_in(ui, PROMPT, &group.sentence, Size::Label, Cut::Regular, p.ink_second);
    ui.add_space(S8);
    let says_what = group.cards.iter().any(|card| !card.what.is_empty()) && room(ui.ctx()) != Room::Tiny;
    let columns: &[Column] = if says_what { &[Column::Share(2.0), Column::Share(1.0)] } else { &[Column::Share(1.0)] };
    for EditionRow { ask, what } in &group.cards {
        let said = if what.is_empty() { ask.clone() } else { format!("{ask} {what}") };
        row(ui, columns, &[Cell::text(ask), Cell::quiet(what)], LIST_ROW, (false, false), &said);
    }
    if let Some(more) = &group.more {
        ui.add_space(S8);
        label_in(ui, PROMPT, more, Size::Label, Cut::Regular, p.ink_second);
    }
}
