//! The plan to the oral, and what came of it.

use crate::app::program::app::App;
use crate::app::program::route::Route;
use crate::domain::settings::{KeptPlan, OralResult};
use crate::present::Notice;

impl App {
    /// Other minutes are tried; nothing is kept.
    pub(super) fn plan_with(&mut self, minutes: u32) {
        self.jobs.plan.try_minutes(minutes.clamp(5, 120));
    }

    /// The plan that is shown is kept, with its minutes: watches go by it from now on.
    pub(super) fn keep_plan(&mut self) {
        let Some(planned) = self.jobs.plan.done().cloned() else { return };
        let today = self.open().map(|open| open.profile.learner.day(self.now()));
        let Some(today) = today else { return };
        self.change_settings(|settings| {
            let number = settings.plan.map_or(1, |kept| kept.number + 1);
            settings.minutes = planned.minutes;
            settings.plan = Some(KeptPlan { plan: planned.plan, number, drawn: today });
        });
        self.say(Notice::done("The plan is kept; every watch goes by it from now on."));
    }

    /// What came of the oral is kept, and the program goes on: without a date, as steady upkeep.
    pub(super) fn tell_result(&mut self, passed: Option<bool>) {
        self.change_settings(|settings| {
            if let Some((day, passed)) = settings.oral.zip(passed) {
                settings.results.push(OralResult { day, passed });
            }
            (settings.oral, settings.plan) = (None, None);
        });
        self.say(Notice::done(match passed {
            Some(true) => "Well done. What you know is kept fresh by a short watch now and then.",
            Some(false) => "It is kept. Set the next date here, and the plan begins anew from what you know.",
            None => "Set the new date here, and the plan goes on.",
        }));
        self.route = if passed == Some(true) { Route::Watch } else { Route::Plan };
    }
}
