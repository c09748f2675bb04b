//! The profile could not be opened: what happened, and what can be done.

use eframe::egui::{Ui, pos2, vec2};

use crate::app::program::command::{Command, ProfileCommand};
use crate::app::program::route::Route;
use crate::present::TroubleView;
use crate::present::pages::TroubleKind;
use crate::ui::keys;
use crate::ui::kit::{Act, Mark, Sheet, heading, label_in, mark};
use crate::ui::theme::measure::{READING, S8, S12, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// Draws it.
pub fn trouble_ui(ui: &mut Ui, view: &TroubleView) -> Option<Command> {
    let retry = || Act::other("Try again", keys::letter('R'), Command::Profile(ProfileCommand::RetryOpen));
    let others = || Act::other("Other learners", keys::letter('O'), Command::Go(Route::Profiles));
    let acts = match &view.kind {
        TroubleKind::InUse | TroubleKind::Folder => {
            vec![Act::primary("Try again", keys::ENTER, Command::Profile(ProfileCommand::RetryOpen)), others()]
        }
        TroubleKind::Newer => vec![Act::primary("Other learners", keys::ENTER, Command::Go(Route::Profiles)), retry()],
        TroubleKind::Damaged { backup: Some(_) } => vec![
            Act::primary("Open the backup", keys::ENTER, Command::Profile(ProfileCommand::RestoreBackup)),
            Act::other("Begin an empty one", keys::letter('E'), Command::Profile(ProfileCommand::StartAfresh)),
            others(),
        ],
        TroubleKind::Damaged { backup: None } => {
            vec![
                Act::primary("Begin an empty one", keys::ENTER, Command::Profile(ProfileCommand::StartAfresh)),
                others(),
            ]
        }
    };
    let sheet = Sheet { framed: true, block: None, folded: false, scroll: "trouble" };
    let ((), act) = sheet.show(ui, &acts, |ui| content_ui(ui, view));
    act
}

fn content_ui(ui: &mut Ui, view: &TroubleView) {
    let p = theme::palette(ui);
    let title = match view.kind {
        TroubleKind::InUse => "These records are open elsewhere",
        TroubleKind::Damaged { .. } => "These records are damaged",
        TroubleKind::Newer => "These records are from a newer version",
        TroubleKind::Folder => "The records cannot be reached",
    };
    ui.add_space(S16);
    ui.horizontal(|ui| {
        let (_, place) = ui.allocate_space(vec2(S24 + S8, theme::line_height(Size::Prompt)));
        mark(ui.painter(), pos2(place.left() + S8, place.center().y), Mark::WedgeDown, p.amber);
        heading(ui, title, Size::Prompt, Cut::Regular);
    });
    ui.add_space(S12);
    label_in(ui, READING, &view.what, Size::Body, Cut::Regular, p.ink);
    if let TroubleKind::Damaged { backup } = &view.kind {
        ui.add_space(S12);
        let words = match backup {
            Some(backup) => {
                format!("The newest good backup: {backup}. The damaged file stays where it is, under a new name.")
            }
            None => "There is no good backup. The damaged file stays where it is, under a new name.".to_owned(),
        };
        label_in(ui, READING, &words, Size::Body, Cut::Regular, p.ink);
    }
    if !view.detail.is_empty() {
        ui.add_space(S16);
        label_in(ui, f32::INFINITY, &view.detail, Size::Label, Cut::Mono, p.ink_second);
    }
}
