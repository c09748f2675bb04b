//! A figure in a sitting: it is typed, whatever the way to answer.

use eframe::egui::Ui;

use crate::app::program::command::Command;
use crate::present::OralView;
use crate::present::kinds::figure::{FigureAskedView, FigureMarkedView};
use crate::present::result::ResultView;
use crate::ui::keys::{self, Hot};
use crate::ui::screens::card::kinds::figure;
use crate::ui::screens::card::outcome::ResultAt;
use crate::ui::screens::card::typed::Typed;
use crate::ui::screens::oral::kinds::{Heard, Spoken};

impl Spoken for FigureAskedView {
    fn hand_in(&self) -> Hot {
        keys::ENTER
    }

    fn least(&self, ui: &Ui, _view: &OralView) -> f32 {
        figure::height(ui)
    }

    fn answer_ui(&self, ui: &mut Ui, _view: &OralView, typed: &mut Typed, _free: f32) -> Option<Command> {
        figure::asked_ui(ui, &self.hint, typed);
        None
    }
}

impl Heard for FigureMarkedView {
    fn marked_ui(&self, ui: &mut Ui, _view: &OralView, result: &ResultView) -> Option<Command> {
        figure::marked_ui(ui, self, (result, ResultAt::Answer))
    }
}
