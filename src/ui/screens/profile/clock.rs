//! Whether the computer's date is right, before anything is kept by it.

use eframe::egui::{Ui, pos2, vec2};

use crate::app::program::command::{ClockCommand, Command};
use crate::present::ClockView;
use crate::present::clock::ClockState;
use crate::ui::keys;
use crate::ui::kit::{Act, Mark, Sheet, heading, label_in, mark};
use crate::ui::theme::measure::{READING, S8, S12, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// Draws the question. Enter vouches for nothing: who presses it without reading only goes to set the clock.
pub fn clock_ui(ui: &mut Ui, view: &ClockView) -> Option<Command> {
    let right = || Act::other("The date is right", keys::letter('D'), Command::Clock(ClockCommand::DateIsRight));
    let acts = match view.state {
        ClockState::Asked => {
            vec![Act::primary("I will set the clock", keys::ENTER, Command::Clock(ClockCommand::SetClock)), right()]
        }
        ClockState::Setting => vec![right()],
        ClockState::Later(answers) => {
            let (back, leave) =
                if answers == 1 { ("Take it back", "Leave it") } else { ("Take them back", "Leave them") };
            vec![
                Act::other(back, keys::letter('T'), Command::Clock(ClockCommand::TakeBackLater)),
                Act::other(leave, keys::letter('L'), Command::Clock(ClockCommand::LeaveLater)),
            ]
        }
    };
    let sheet = Sheet { framed: true, block: None, folded: false, scroll: "clock" };
    let ((), act) = sheet.show(ui, &acts, |ui| content_ui(ui, view));
    act
}

fn content_ui(ui: &mut Ui, view: &ClockView) {
    let p = theme::palette(ui);
    ui.add_space(S16);
    ui.horizontal(|ui| {
        let (_, place) = ui.allocate_space(vec2(S24 + S8, theme::line_height(Size::Prompt)));
        mark(ui.painter(), pos2(place.left() + S8, place.center().y), Mark::WedgeUp, p.amber);
        heading(ui, &view.title, Size::Prompt, Cut::Regular);
    });
    for paragraph in &view.paragraphs {
        ui.add_space(S12);
        label_in(ui, READING, paragraph, Size::Body, Cut::Regular, p.ink);
    }
}
