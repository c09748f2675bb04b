//! Setting a card aside, and reporting a fault in it.

use eframe::egui::{Id, Ui};

use crate::app::program::command::{Command, LibraryCommand};
use crate::domain::attempt::Until;
use crate::domain::day::StudyDay;
use crate::domain::ids::CardKey;
use crate::ui::keys;
use crate::ui::kit::{Act, Field, field, heading, label_in};
use crate::ui::theme::measure::{READING, S8, S24};
use crate::ui::theme::{self, Cut, Size};

/// Drafts of setting aside and of reporting a fault.
#[derive(Default)]
pub(crate) struct AsideLocal {
    /// The choice of how long is open.
    pub(crate) choosing: bool,
    /// The fault line is open.
    pub(crate) reporting: bool,
    note: String,
}

/// What was chosen from the actions of setting aside and reporting.
#[derive(Clone, PartialEq)]
pub(crate) enum AsideAct {
    Choose,
    Report,
    ForGood,
    Week,
    Bring,
    Send,
    Cancel,
}

impl AsideLocal {
    pub(crate) fn open(&self) -> bool {
        self.choosing || self.reporting
    }

    /// The actions while a choice or the fault line is open.
    pub(crate) fn acts(&self) -> Vec<Act<AsideAct>> {
        if self.reporting {
            let ready = !self.note.trim().is_empty();
            vec![
                Act::primary("Send the report", keys::ENTER, AsideAct::Send).when(ready),
                Act::other("Cancel", keys::ESC, AsideAct::Cancel),
            ]
        } else {
            vec![
                Act::primary("Set aside for a week", keys::ENTER, AsideAct::Week),
                Act::other("For good", keys::letter('G'), AsideAct::ForGood),
                Act::other("Cancel", keys::ESC, AsideAct::Cancel),
            ]
        }
    }

    /// The line for the fault, or the sentence about setting aside.
    pub(crate) fn content_ui(&mut self, ui: &mut Ui) {
        let p = theme::palette(ui);
        ui.add_space(S24);
        if self.reporting {
            heading(ui, "What is wrong with this card?", Size::Body, Cut::Semi);
            ui.add_space(S8);
            let id = Id::new("fault-note");
            let fresh = self.note.is_empty() && !ui.memory(|m| m.has_focus(id));
            let spec = Field {
                hint: "One line, for its publisher",
                ..Field::line(id, "What is wrong with this card?", READING)
            };
            let response = field(ui, &spec, &mut self.note);
            if fresh {
                response.request_focus();
            }
            response.scroll_to_me(None);
        } else if self.choosing {
            let response = label_in(
                ui,
                READING,
                "Set aside, this card leaves the watch. In the library it can be brought back at any time.",
                Size::Body,
                Cut::Regular,
                p.ink,
            );
            response.scroll_to_me(None);
        }
    }

    /// Runs what was chosen.
    pub(crate) fn run(&mut self, act: &AsideAct, card: &CardKey, today: StudyDay) -> Option<Command> {
        let aside = |until| Some(Command::Library(LibraryCommand::SetAside { card: card.clone(), until }));
        match act {
            AsideAct::Choose => {
                self.choosing = true;
                None
            }
            AsideAct::Report => {
                self.reporting = true;
                None
            }
            AsideAct::Cancel => {
                *self = Self::default();
                None
            }
            AsideAct::Bring => aside(Until::Back),
            AsideAct::ForGood | AsideAct::Week => {
                *self = Self::default();
                aside(if *act == AsideAct::Week { Until::Day(today.plus(7)) } else { Until::ForGood })
            }
            AsideAct::Send => {
                let note = std::mem::take(&mut self.note).trim().to_owned();
                *self = Self::default();
                Some(Command::Library(LibraryCommand::ReportFault { card: card.clone(), note }))
            }
        }
    }
}
