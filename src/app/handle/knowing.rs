//! How well the program knows the learner: learning their own memory.

use crate::app::jobs::training::TrainingEvent;
use crate::app::program::app::{App, Stage};
use crate::domain::english;
use crate::domain::memory::train::{TrainError, Trained};
use crate::domain::settings::OwnMemory;
use crate::present::Notice;

impl App {
    pub(super) fn train_memory(&mut self) {
        let now = self.now();
        if let Stage::Open(open) = &self.stage {
            self.jobs.training.begin(&open.profile.learner, &open.profile.store, now);
        }
    }

    /// The published parameters again.
    pub(super) fn forget_training(&mut self) {
        self.change_settings(|settings| settings.memory = None);
        // Every memory is worked out anew at opening, by the stamp of its parameters.
        self.reopen();
    }

    /// A training has ended: what was learned is taken where it foretells better, and said in any case.
    pub(in crate::app) fn trained(&mut self, event: TrainingEvent) {
        match event {
            TrainingEvent::Failed(error) => self.say(match error {
                TrainError::Stopped => Notice::done("It was stopped; nothing has changed."),
                error => Notice::failed(english::sentence(&error.to_string())),
            }),
            TrainingEvent::Broken(fault) => self.tell_fault("Your own memory", "Have it learned again", &fault),
            TrainingEvent::NoBetter(trained) => {
                let text = format!(
                    "What was learned does not predict your last {} answers better, so nothing has changed.",
                    trained.held_back
                );
                self.change_settings(|settings| settings.last_training = Some(told(&trained, false)));
                self.say(Notice::done(text));
            }
            TrainingEvent::Better(trained, model, memory) => {
                let text = format!(
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
                    let ticket = open.profile.store.replace_memory(open.profile.learner.editions.stamp(&model), rows);
                    (open.profile.learner.model, open.profile.learner.memory) = (*model, memory);
                    self.keeping.changes.push(ticket);
                }
                self.say(Notice::done(text));
            }
        }
    }
}

fn told(trained: &Trained, adopted: bool) -> OwnMemory {
    OwnMemory { held_back: trained.held_back, before: trained.before, after: trained.after, adopted }
}
