//! The point card.

use eframe::egui::Ui;

use crate::app::command::Command;
use crate::present::watch::Stage;
use crate::ui::kit::Act;
use crate::ui::screens::KeyLine;

/// Drafts on the card.
#[derive(Default)]
pub(super) struct PointLocal {}

/// What may be done on the card.
#[derive(Clone)]
pub(super) enum PointAct {}

impl PointLocal {
    /// Escape closes something on the card first.
    pub(super) fn takes_escape(&self) -> bool {
        false
    }
}

/// The actions under the card, as it stands; none where the usual ones after marking serve.
pub(super) fn acts(_stage: &Stage, _local: &PointLocal, _keeping: bool) -> Vec<Act<PointAct>> {
    Vec::new()
}

/// Carries out an action.
pub(super) fn run(_ui: &Ui, act: &PointAct, _stage: &Stage, _local: &mut PointLocal) -> Option<Command> {
    match *act {}
}

/// Draws the card below its question; `used` is the height that the question took.
pub(super) fn point_ui(_ui: &mut Ui, _stage: &Stage, _local: &mut PointLocal, _used: f32) -> Option<Command> {
    None
}

/// The keys of the card.
pub(super) fn key_lines(_stage: &Stage) -> Vec<KeyLine> {
    Vec::new()
}
