//! The learners on this computer.

use eframe::egui::{Id, Ui};

use crate::app::program::command::{Command, ProfileCommand};
use crate::present::{ProfilesView, Tone};
use crate::ui::keys;
use crate::ui::kit::{Act, Cell, Column, Field, Mark, Room, Sheet, field, head_row, heading, label_in, room, row};
use crate::ui::theme::measure::{READING, S4, S8, S24, S40, TABLE_ROW};
use crate::ui::theme::{self, Cut, Size};

/// Which row the cursor is on, and the name of a new learner.
#[derive(Default)]
pub struct ProfilesLocal {
    cursor: usize,
    making: bool,
    name: String,
}

#[derive(Clone, PartialEq)]
enum ProfilesAct {
    Open,
    New,
    Make,
    Cancel,
}

/// Draws the profiles.
pub fn profiles_ui(ui: &mut Ui, view: &ProfilesView, local: &mut ProfilesLocal) -> Option<Command> {
    let last = view.profiles.len().saturating_sub(1);
    let (up, down) = (keys::take_repeated(ui, keys::UP), keys::take_repeated(ui, keys::DOWN));
    local.cursor = if up { local.cursor.saturating_sub(1) } else { local.cursor + usize::from(down) }.min(last);
    let acts = if local.making {
        vec![
            Act::primary("Make the profile", keys::ENTER, ProfilesAct::Make).when(!local.name.trim().is_empty()),
            Act::other("Cancel", keys::ESC, ProfilesAct::Cancel),
        ]
    } else {
        let closed = view.profiles.get(local.cursor).is_some_and(|p| !p.open);
        vec![
            Act::primary("Open", keys::ENTER, ProfilesAct::Open).when(closed),
            Act::other("New learner", keys::letter('N'), ProfilesAct::New),
        ]
    };
    let sheet = Sheet { framed: false, block: None, folded: false, scroll: "profiles" };
    let (clicked, act) = sheet.show(ui, &acts, |ui| content_ui(ui, view, local));
    if let Some(index) = clicked {
        local.cursor = index;
    }
    match act? {
        ProfilesAct::Open => {
            view.profiles.get(local.cursor).map(|p| Command::Profile(ProfileCommand::Open(p.folder.clone())))
        }
        ProfilesAct::New => {
            local.making = true;
            None
        }
        ProfilesAct::Make => {
            local.making = false;
            Some(Command::Profile(ProfileCommand::New(std::mem::take(&mut local.name).trim().to_owned())))
        }
        ProfilesAct::Cancel => {
            local.making = false;
            local.name.clear();
            None
        }
    }
}

fn content_ui(ui: &mut Ui, view: &ProfilesView, local: &mut ProfilesLocal) -> Option<usize> {
    let p = theme::palette(ui);
    ui.add_space(S4);
    heading(ui, "Learners on this computer", Size::Head, Cut::Semi);
    ui.add_space(S4);
    let words = "Each has a store of their own: what one does changes nothing for another.";
    label_in(ui, READING, words, Size::Body, Cut::Regular, p.ink_second);
    ui.add_space(S24);
    let full = [Column::Share(1.0), Column::Share(1.4), Column::Share(1.2), Column::Text(80.0)];
    let small = [Column::Share(1.0), Column::Text(80.0)];
    let narrow = room(ui.ctx()) == Room::Tiny;
    if narrow {
        head_row(ui, &small, &["Learner", ""]);
    } else {
        head_row(ui, &full, &["Learner", "Certificate", "Last watch", ""]);
    }
    let mut clicked = None;
    for (index, profile) in view.profiles.iter().enumerate() {
        let current = index == local.cursor && !local.making;
        let name = Cell { strong: current, ..Cell::text(&profile.learner) };
        let open =
            if profile.open { Cell::text("open").toned(Tone::Good).marked(Some(Mark::Dot)) } else { Cell::text("") };
        let said = format!(
            "{}, {}, {}{}",
            profile.learner,
            profile.certificate,
            profile.last,
            if profile.open { ", open" } else { "" }
        );
        let response = if narrow {
            row(ui, &small, &[name, open], TABLE_ROW, (true, current), &said)
        } else {
            let cells = [name, Cell::quiet(&profile.certificate), Cell::quiet(&profile.last), open];
            row(ui, &full, &cells, TABLE_ROW, (true, current), &said)
        };
        if response.clicked() {
            clicked = Some(index);
        }
    }
    if local.making {
        ui.add_space(S24);
        heading(ui, "The new learner’s name", Size::Body, Cut::Semi);
        ui.add_space(S8);
        let id = Id::new("new-learner");
        let spec = Field::line(id, "The new learner’s name", READING - S40 * 4.0);
        let fresh = local.name.is_empty() && ui.memory(|m| m.focused().is_none());
        let response = field(ui, &spec, &mut local.name);
        if fresh {
            response.request_focus();
        }
    }
    clicked
}
