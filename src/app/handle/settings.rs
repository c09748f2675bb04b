//! Settings that touch more than themselves.

use crate::app::program::app::App;
use crate::present::Notice;

impl App {
    /// Sets the recall target: every due day moves with it.
    pub(super) fn set_recall_target(&mut self, target: f64) {
        let now = self.now();
        let Some(open) = self.open_mut() else { return };
        let learner = &mut open.profile.learner;
        learner.set_target(target);
        let rows = learner.memory.iter().map(|(k, m)| (k.clone(), *m)).collect();
        let saved = open.profile.store.save_settings(&learner.settings, now);
        let replaced = open.profile.store.replace_memory(learner.editions.stamp(&learner.model), rows);
        self.keeping.changes.extend([saved, replaced]);
    }

    pub(super) fn set_learner(&mut self, name: String) {
        let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
        if name.is_empty() {
            self.say(Notice::failed("A learner needs a name."));
            return;
        }
        self.change_settings(|s| s.learner = name.chars().take(80).collect());
    }
}
