//! How well the program knows the learner: learning their own memory.

use crate::app::state::App;
use crate::app::trainer::Come;
use crate::domain::memory::train::{TrainError, Trained};
use crate::domain::settings::OwnMemory;
use crate::present::Notice;

impl App {
    pub(super) fn train_memory(&mut self) {
        if let crate::app::state::Stage::Open(open) = &self.stage {
            self.trainer.begin(&open.profile.learner, &open.profile.store);
        }
    }

    /// The published parameters again.
    pub(super) fn forget_training(&mut self) {
        self.change_settings(|settings| settings.memory = None);
        // Every memory is worked out anew at opening, by the stamp of its parameters.
        self.reopen();
    }

    /// What the trainer has to tell; true where the screen changes.
    pub(in crate::app) fn mind_training(&mut self) -> bool {
        let store = match &self.stage {
            crate::app::state::Stage::Open(open) => Some(&open.profile.store),
            _ => None,
        };
        match self.trainer.take_in(store, &self.setup.wake) {
            Ok(Come::Nothing) => false,
            Ok(Come::Moved) => true,
            Ok(Come::Failed(error)) => {
                self.notice = Some(match error {
                    TrainError::Stopped => Notice::done("It was stopped; nothing has changed."),
                    error => Notice::failed(crate::present::words::sentence(&error.to_string())),
                });
                true
            }
            Ok(Come::NoBetter(trained)) => {
                let words = format!(
                    "What was learned does not predict your last {} answers better, so nothing has changed.",
                    trained.held_back
                );
                self.change_settings(|settings| settings.last_training = Some(told(&trained, false)));
                self.notice = Some(Notice::done(words));
                true
            }
            Ok(Come::Better(trained, model, memory)) => {
                let words = format!(
                    "Your own memory is used from now on: it predicts your last {} answers better, and due days have \
                     moved.",
                    trained.held_back
                );
                self.change_settings(|settings| {
                    settings.memory = Some(trained.parameters.clone());
                    settings.last_training = Some(told(&trained, true));
                });
                if let Some(open) = self.open_mut() {
                    let rows = memory.iter().map(|(key, memory)| (key.clone(), *memory)).collect();
                    let ticket = open.profile.store.replace_memory(model.stamp(), rows);
                    (open.profile.learner.model, open.profile.learner.memory) = (*model, memory);
                    self.saving.push(ticket);
                }
                self.notice = Some(Notice::done(words));
                true
            }
            Err(error) => {
                self.fail(&error);
                true
            }
        }
    }
}

fn told(trained: &Trained, adopted: bool) -> OwnMemory {
    OwnMemory { held_back: trained.held_back, before: trained.before, after: trained.after, adopted }
}
