//! A line-up: the valves of a schematic are set, checked, mended and checked again.
//!
//! This file holds what may be done; what is kept between frames stands in `local`, the schematic with its valves is drawn
//! in `board`, what stands under it in `result`.

mod board;
mod demands;
mod local;
mod result;

use eframe::egui::Ui;

use crate::app::program::command::{CardCommand, Command};
use crate::domain::answer::Given;
use crate::present::kinds::lineup::{LineupAskedView, LineupCheckedView};
use crate::ui::keys::{self, KeyLine};
use crate::ui::kit::{self, Act, Room};
use crate::ui::screens::card::act::{self, CardAct, Moment, Own};
use crate::ui::screens::card::face::{Canvas, CardFace, Foot, Layout};
use crate::ui::screens::card::kinds::lineup::local::Lined;
use crate::ui::screens::card::typed::Typed;
use crate::ui::theme::measure::{S12, S16};

pub(super) use local::Local;

/// The face of a card of this kind that is asked.
pub(super) fn asked<'a>(
    view: &'a LineupAskedView,
    _typed: &'a mut Typed,
    local: &'a mut Local,
) -> Box<dyn CardFace + 'a> {
    Box::new(Lineup { lined: Lined { asked: view, checked: None }, local })
}

/// The face of a card of this kind that is marked.
pub(super) fn marked<'a>(view: &'a LineupCheckedView, local: &'a mut Local) -> Box<dyn CardFace + 'a> {
    Box::new(Lineup { lined: Lined { asked: &view.asked, checked: Some(view) }, local })
}

/// A line-up that is asked, or that was checked.
struct Lineup<'a> {
    lined: Lined<'a>,
    local: &'a mut Local,
}

impl Lineup<'_> {
    /// Valves are set: before the check, and while it is mended.
    fn is_being_set(&self) -> bool {
        self.lined.checked.is_none() || self.local.mending
    }

    /// What may be done while valves are set.
    fn setting_acts(&self, tiny: bool) -> Vec<Act<CardAct>> {
        let own = CardAct::Own;
        let mending = self.local.mending;
        let check = if mending { "Check again" } else { "Check" };
        let mut acts = vec![Act::primary(check, keys::ENTER, own(Own::HandIn))];
        if mending {
            acts.push(Act::other("Back to the check", keys::ESC, own(Own::BackToMarked)));
        }
        if tiny {
            // Their keys do the same without a place of their own.
            return acts;
        }
        let anything = !self.lined.asked.schematic.network.turnable().is_empty();
        acts.push(Act::other("Turn", keys::SPACE, own(Own::Turn)).when(anything));
        acts.push(Act::other("Next valve", keys::TAB_SHOWN, own(Own::Next)).when(anything));
        if self.local.is_changed(self.lined.asked) {
            acts.push(Act::other("As found", keys::letter('R'), own(Own::AsFound)));
        }
        acts
    }

    fn check(&mut self, ui: &Ui) -> Command {
        // Checked, the valves give the keys back to the card.
        if let Some(focused) = ui.memory(|m| m.focused()) {
            ui.memory_mut(|m| m.surrender_focus(focused));
        }
        let answer = self.lined.asked.schematic.answer(self.local.set(self.lined.asked));
        self.local.mending = false;
        match self.lined.checked {
            Some(_) => Command::Card(CardCommand::CheckAgain(answer)),
            None => Command::Card(CardCommand::Submit(Given::LinedUp(answer))),
        }
    }
}

impl CardFace for Lineup<'_> {
    fn follow(&mut self, ui: &Ui) {
        if let Some(checked) = self.lined.checked {
            self.local.follow(ui, checked);
        }
        if result::has_place(ui) {
            self.local.take_pages(ui);
        }
    }

    fn layout(&self, ui: &Ui) -> Layout {
        let foot = result::has_place(ui).then(|| result::height(ui, self.lined));
        Layout { is_board: true, foot, ..Layout::plain(ui) }
    }

    fn acts(&self, moment: Moment) -> Vec<Act<CardAct>> {
        let Some(checked) = self.lined.checked.filter(|_| !self.local.mending) else {
            return self.setting_acts(moment.tiny);
        };
        if !self.local.settled(checked) {
            return vec![Act::primary("Skip to the result", keys::letter('S'), CardAct::Own(Own::ToTheEnd))];
        }
        let mut acts = vec![act::accept(moment)];
        if !checked.works() {
            acts.push(Act::other("Correct it", keys::letter('M'), CardAct::Own(Own::Mend)));
        }
        let right = if self.local.right(checked).is_some() { "Show my own" } else { "Show one that works" };
        acts.push(Act::other(right, keys::letter('W'), CardAct::Own(Own::ShowRight)));
        acts.extend(act::aside());
        acts
    }

    fn keys(&self) -> Vec<KeyLine> {
        let mut lines = vec![
            KeyLine::of("TAB, SHIFT TAB", "To the next valve, to the one before"),
            KeyLine::of("SPACE", "With the focus on a valve: turn it, open or shut, or to its other way"),
            KeyLine::of("↑, ↓, ←, →", "To the valve on that side; a drawing larger than its place moves"),
            KeyLine::of("Z, SHIFT Z", "The drawing closer, or further off; the wheel does it too"),
            KeyLine::of("0", "All of the drawing"),
        ];
        if self.is_being_set() {
            lines.push(KeyLine::of("+, −", "Closer, further off, as Z"));
        }
        lines
    }

    /// Escape leaves mending, and the setting that works, before it leaves the watch.
    fn takes_escape(&self) -> bool {
        self.local.mending || self.local.right_shown
    }

    fn is_settled(&self) -> bool {
        self.lined.checked.is_none_or(|checked| self.local.settled(checked))
    }

    fn body_ui(&mut self, ui: &mut Ui, canvas: &mut Canvas<'_>) -> Option<Command> {
        let used = canvas.used(ui);
        // A drawing needs the room that one column of text on other cards has to spare.
        let room = kit::room(ui.ctx());
        let spare = match room {
            Room::Full => S16,
            Room::Folded => S12,
            Room::Tiny => 0.0,
        };
        ui.add_space(-spare);
        board::board_ui(ui, self.lined, self.local, used - spare + kit::margins(ui.ctx()));
        if room == Room::Tiny {
            result::in_text_ui(ui, self.lined, canvas.result, self.local);
        }
        None
    }

    fn foot_ui(&mut self, ui: &mut Ui, foot: &Foot<'_>) -> Option<Command> {
        result::foot_ui(ui, self.lined, self.local, foot)
    }

    fn run(&mut self, ui: &Ui, act: Own) -> Option<Command> {
        match (act, self.lined.checked) {
            (Own::HandIn, _) => return Some(self.check(ui)),
            (Own::Turn, _) => match self.local.chosen {
                Some(node) => {
                    self.local.turn(self.lined, node);
                    self.local.wanted = Some(node);
                }
                None => self.local.wanted = self.local.next(),
            },
            (Own::Next, _) => self.local.wanted = self.local.next(),
            (Own::AsFound, _) => self.local.set_as_found(),
            (Own::ToTheEnd, Some(checked)) => self.local.flood_to_the_end(checked),
            (Own::Mend, Some(checked)) => self.local.begin_mending(checked),
            (Own::BackToMarked, _) => self.local.back_to_check(),
            (Own::ShowRight, Some(checked)) => {
                return self.local.show_right(checked).then_some(Command::Card(CardCommand::ShowRightSetting));
            }
            _ => {}
        }
        None
    }
}
