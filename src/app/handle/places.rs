//! Moving about, first run, and profiles.

use std::path::Path;

use crate::app::profile::trouble::Trouble;
use crate::app::program::app::{App, Stage};
use crate::app::program::route::Route;
use crate::app::program::setup::Setup;
use crate::domain::day::Instant;
use crate::present::Notice;
use crate::store::{OpenError, Recovered, home, profiles};

impl App {
    pub(super) fn go(&mut self, route: Route) {
        if self.route == Route::FirstRun {
            return;
        }
        if self.open().is_none() {
            // Without a profile there are only the trouble itself and the other learners.
            self.route = if route == Route::Profiles { route } else { Route::StoreTrouble };
            return;
        }
        self.notices.shown = None;
        if let Route::Card(key) = &route {
            let key = key.clone();
            if let Some(open) = self.open_mut() {
                open.history = None;
                match open.profile.store.attempts_of(key.clone()).wait() {
                    Ok(attempts) => open.history = Some((key, attempts)),
                    Err(error) => self.fail(&error),
                }
            }
        }
        self.look_up_edition(&route);
        self.leave_writing(&route);
        self.jobs.ask_again();
        // The worksheet gives no answer away: what stands on the sheet stays there.
        if !matches!(route, Route::Watch | Route::Worksheet) {
            self.rest_the_sheet();
        }
        if !matches!(route, Route::Oral | Route::Worksheet) {
            // A sitting waits with its clock standing while one is elsewhere.
            self.pause_oral(true);
        }
        self.save_worksheet();
        if route == Route::BringOver {
            self.find_files();
        }
        self.route = if route == Route::Oral && self.oral.is_none() { Route::OralFront } else { route };
    }

    /// A card left unanswered on the sheet is laid out anew, with its clock at nought, when the watch goes on.
    fn rest_the_sheet(&mut self) {
        let now = self.now();
        if !self.is_keeping()
            && let Some(session) = &mut self.session
            && session.watch.left() > 0
        {
            session.rest(now);
        }
    }

    pub(super) fn finish_first_run(&mut self, watch: bool) {
        self.route = Route::Watch;
        if watch {
            self.stand_watch(false);
        }
    }

    pub(super) fn new_profile(&mut self, name: &str) {
        let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
        match profiles::create(&self.setup.home, &name) {
            Ok(info) => self.switch(info.folder, Some(info.learner)),
            Err(error) => self.fail(&error),
        }
    }

    pub(super) fn open_profile(&mut self, folder: &str) {
        self.switch(folder.to_owned(), None);
    }

    fn switch(&mut self, folder: String, learner: Option<String>) {
        let Some(dir) = home::profile_dir(&self.setup.home, &folder) else {
            self.say(Notice::failed(format!("There is no profile `{folder}` on this computer.")));
            return;
        };
        if self.open().is_some_and(|open| open.profile.dir == dir) {
            self.route = Route::Watch;
            return;
        }
        if let Stage::Trouble(_, find) = &mut self.stage {
            *find = None;
        }
        self.setup = Setup { dir, learner, ..self.setup.clone() };
        if let Err(error) = profiles::remember_last(&self.setup.home, &folder) {
            self.fail(&error);
        }
        self.reopen();
    }

    /// Goes on from a damaged profile; the damaged file stays, under a new name.
    pub(super) fn recover(&mut self, how: impl FnOnce(&Path, Instant) -> Result<Recovered, OpenError>) {
        let (dir, now) = (self.setup.dir.clone(), self.now());
        match how(&dir, now) {
            Ok(recovered) => {
                self.reopen();
                let names: Vec<String> = recovered.set_aside.iter().map(|p| p.display().to_string()).collect();
                let saved = match recovered.saved {
                    0 => String::new(),
                    1 => " One answer that the backup did not hold was read from it and is kept.".to_owned(),
                    n => format!(" {n} answers that the backup did not hold were read from it and are kept."),
                };
                let text = format!("The damaged file was set aside as {}.{saved}", names.join(" and "));
                self.say(Notice::done(text));
            }
            Err(error) => self.fail(&error),
        }
    }

    /// Opens the profile of the setup from the start; what was open is closed first.
    pub(super) fn reopen(&mut self) {
        self.save_worksheet();
        if let Some(keeping) = self.keeping.answer.take() {
            let (attempt, memory, why) = (keeping.attempt, keeping.memory, keeping.why_missed);
            let answer = keeping.ticket.wait();
            self.kept(attempt, memory, why, answer);
        }
        let mut setup = self.setup.clone();
        if let Stage::Trouble(trouble, Some(find)) = &mut self.stage {
            match find() {
                Ok(found) => setup = found,
                Err(failure) => {
                    **trouble = Trouble::from(&failure, setup.ship);
                    return;
                }
            }
        }
        self.fall_silent();
        self.begin_anew(setup);
    }
}
