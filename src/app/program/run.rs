//! The program as a window sees it, and its chores between frames: what background work has brought is taken in, and
//! more of it is asked for.

use std::collections::VecDeque;
use std::sync::Arc;
use std::time::Duration;

use crate::app::jobs::JobEvent;
use crate::app::jobs::decks::DeckRead;
use crate::app::jobs::job::{JobFault, OPEN_AGAIN};
use crate::app::jobs::worksheet::Question;
use crate::app::profile::opening::{Failure, Ready, worth_saying};
use crate::app::profile::trouble::Trouble;
use crate::app::program::Program;
use crate::app::program::app::{App, Open, Stage};
use crate::app::program::command::Command;
use crate::app::program::keeping::{Keeping, KeepingTurn};
use crate::app::program::route::{Route, WritePage};
use crate::app::search::index;
use crate::app::sitting::AtOral;
use crate::domain::day::Instant;
use crate::domain::settings::ThemeChoice;
use crate::present::{Notice, ShellView, Tone};
use crate::store::{Store, Ticket};

impl Program for App {
    fn view(&mut self) -> Arc<ShellView> {
        if let Some((_, view)) = &self.shown {
            return Arc::clone(view);
        }
        let now = self.now();
        self.request_jobs();
        let view = Arc::new(self.draw(now));
        self.shown = Some((now, Arc::clone(&view)));
        view
    }

    fn command(&mut self, command: Command) {
        self.handle(command);
    }

    fn tick(&mut self) -> Option<Duration> {
        self.poll()
    }

    fn theme(&self) -> ThemeChoice {
        self.open().map_or(ThemeChoice::System, |o| o.profile.learner.settings.theme)
    }

    fn scale_percent(&self) -> u32 {
        self.open().map_or(100, |o| o.profile.learner.settings.scale_percent)
    }

    fn still(&self) -> bool {
        self.open().is_some_and(|o| o.profile.learner.settings.still)
    }
}

impl App {
    /// Blocks until nothing is on its way: for faces without frames.
    pub fn settle(&mut self) {
        loop {
            self.wait_for_store();
            self.request_jobs();
            let now = self.now();
            let (jobs, store) = (&mut self.jobs, store_of(&self.stage));
            let events = jobs.wait(store, now);
            self.take_notices();
            if events.is_empty() && !self.mark_unread() {
                break;
            }
            for event in events {
                self.take_event(event);
            }
        }
        self.shown = None;
    }

    fn wait_for_store(&mut self) {
        if let Some(Keeping { attempt, memory, why_missed, ticket }) = self.keeping.answer.take() {
            let kept = ticket.wait();
            self.kept(attempt, memory, why_missed, kept);
        }
        if let Some(ticket) = self.keeping.back.take() {
            let answer = ticket.wait();
            self.taken_back(answer);
        }
        if let Some(KeepingTurn { turn, attempt, ticket }) = self.keeping.turn.take() {
            let kept = ticket.wait();
            self.turn_kept(turn, attempt, kept);
        }
        let now = self.now();
        self.poll_clock();
        self.poll_sound(now);
        self.save_worksheet();
        for ticket in std::mem::take(&mut self.keeping.changes) {
            if let Err(error) = ticket.wait() {
                self.fail(&error);
            }
        }
    }

    /// Takes in what has come; gives the time until the screen changes by itself.
    pub(in crate::app) fn poll(&mut self) -> Option<Duration> {
        let now = self.now();
        let mut changed = self.poll_jobs(now);
        changed |= self.mark_unread();
        changed |= self.poll_store();
        changed |= self.take_notices();
        changed |= self.poll_clock();
        changed |= self.poll_sound(now);
        let until_saved = self.save_in_time(now);
        let (gone, until_gone) = self.notices.poll(now);
        changed |= gone;
        let step_ms = if self.clock_runs() { 1_000 } else { 60_000 };
        let is_past = self.shown.as_ref().is_some_and(|(at, _)| at.0.div_euclid(step_ms) != now.0.div_euclid(step_ms));
        if changed || is_past {
            self.shown = None;
        }
        let left = Duration::from_millis((step_ms - now.0.rem_euclid(step_ms)).unsigned_abs());
        let sooner = [self.jobs.until(now), until_saved, until_gone, self.until_clock()].into_iter().flatten().min();
        if matches!(self.stage, Stage::Open(_)) { Some(sooner.map_or(left, |sooner| sooner.min(left))) } else { sooner }
    }

    fn poll_jobs(&mut self, now: Instant) -> bool {
        let (jobs, store) = (&mut self.jobs, store_of(&self.stage));
        let come = jobs.poll(store, now);
        for event in come.events {
            self.take_event(event);
        }
        come.changed
    }

    fn poll_store(&mut self) -> bool {
        let mut changed = false;
        if let Some(answer) = self.keeping.answer.as_ref().and_then(|k| k.ticket.try_take())
            && let Some(Keeping { attempt, memory, why_missed, .. }) = self.keeping.answer.take()
        {
            self.kept(attempt, memory, why_missed, answer);
            changed = true;
        }
        if let Some(answer) = self.keeping.back.as_ref().and_then(Ticket::try_take) {
            self.keeping.back = None;
            self.taken_back(answer);
            changed = true;
        }
        if let Some(answer) = self.keeping.turn.as_ref().and_then(|k| k.ticket.try_take())
            && let Some(KeepingTurn { turn, attempt, .. }) = self.keeping.turn.take()
        {
            self.turn_kept(turn, attempt, answer);
            changed = true;
        }
        let mut failed = None;
        self.keeping.changes.retain(|ticket| match ticket.try_take() {
            None => true,
            Some(Ok(())) => false,
            Some(Err(error)) => {
                failed = Some(error);
                false
            }
        });
        if let Some(error) = failed {
            self.fail(&error);
            changed = true;
        }
        changed
    }

    /// A clock on the screen runs.
    fn clock_runs(&self) -> bool {
        match self.route {
            Route::Watch => self.session.as_ref().and_then(|s| s.sheet.as_ref()).is_some_and(|s| s.clock_runs()),
            Route::Oral => self.oral.as_ref().is_some_and(AtOral::clock_runs),
            Route::Write(WritePage::Card) => self.trial().is_some_and(|trial| trial.sheet.clock_runs()),
            _ => false,
        }
    }

    fn take_event(&mut self, event: JobEvent) {
        match event {
            JobEvent::Opened(answer) => self.opened(*answer),
            JobEvent::DeckRead(read) => self.complete(*read),
            JobEvent::DeckWritten(read) => self.take_written(*read),
            JobEvent::SearchLost => self.mend_search(),
            JobEvent::SearchFailed(fault) => self.tell_fault("The search", "Search again", &fault),
            JobEvent::Trained(event) => self.trained(event),
            JobEvent::OutlookFailed(fault) => {
                self.tell_fault("The chance of passing", OPEN_AGAIN, &fault);
            }
            JobEvent::PlanFailed(fault) => {
                self.tell_fault("The plan", OPEN_AGAIN, &fault);
            }
            JobEvent::Read(number, reading) => self.take_reading(number, reading.as_ref()),
            JobEvent::TakenIn(event) => self.taken_in(event),
            JobEvent::NoReader(why) => self.tell_no_reader(&why),
            JobEvent::Errand(done) => self.errand_done(done),
        }
    }

    /// Says that a job gave no answer, and how it is asked for again.
    pub(in crate::app) fn tell_fault(&mut self, what: &str, again: &str, fault: &JobFault) {
        match fault {
            JobFault::Store(error) => self.fail(error),
            fault => self.say(Notice::failed(fault.told(what, again))),
        }
    }

    fn opened(&mut self, answer: Result<Result<Ready, Failure>, JobFault>) {
        let Stage::Opening(since) = self.stage else { return };
        let failed = |trouble| Stage::Trouble(Box::new(trouble), None);
        match answer {
            Ok(Ok(Ready { shelf, profile, indexing, notices, news })) => {
                let now = self.now();
                let settings = &profile.learner.settings;
                let over = settings.oral.is_some_and(|oral| oral < profile.learner.day(now));
                self.route = match settings.first_run_done {
                    false => Route::FirstRun,
                    // The result of the oral is asked for once.
                    true if over => Route::Plan,
                    true => Route::Watch,
                };
                if !notices.is_empty() {
                    self.say(Notice { tone: Tone::Plain, text: notices.join(" ") });
                }
                self.jobs.search.index(indexing, now);
                self.jobs.decks.request(shelf.rest(), now);
                let seed = since.0.unsigned_abs();
                let (history, update, withdrawn) = (None, None, None);
                let open =
                    Open { shelf, profile, history, update, withdrawn, news: VecDeque::new(), seed, writing: None };
                self.stage = Stage::Open(Box::new(open));
                self.tell_news(news);
                if !self.clock_is_doubted() {
                    self.delete_old_recordings();
                }
            }
            Ok(Err(failure)) => {
                self.route = Route::StoreTrouble;
                self.stage = failed(Trouble::from(&failure, self.setup.ship));
            }
            Err(_) => {
                self.route = Route::StoreTrouble;
                self.stage = failed(Trouble::unknown());
            }
        }
    }

    /// A deck whose drawings took long has been read whole.
    fn complete(&mut self, DeckRead { folder, reading }: DeckRead) {
        let now = self.now();
        let reading = match reading {
            Ok(reading) => reading,
            Err(fault) => {
                let deck = format!("The deck in {} could not be read to its end", folder.display());
                return self.say(Notice::failed(format!("{deck}: {fault}. Have the decks read again in the library.")));
            }
        };
        let Stage::Open(open) = &mut self.stage else { return };
        open.shelf.complete(&folder, reading);
        self.jobs.search.index(index(&open.profile.store, &open.shelf), now);
        self.take_in_editions(now);
    }

    /// Has the decks read into the search again where its index was of no use; without a word.
    fn mend_search(&mut self) {
        let now = self.now();
        if let Stage::Open(open) = &self.stage {
            self.jobs.search.mend(&open.profile.store, &open.shelf, now);
        }
    }

    /// What the store has to say of its own work, such as a backup that could not be made.
    fn take_notices(&mut self) -> bool {
        let Some(open) = self.open() else { return false };
        let notices: Vec<String> =
            open.profile.store.take_notices().iter().filter(|n| worth_saying(n)).map(ToString::to_string).collect();
        if notices.is_empty() {
            return false;
        }
        self.say(Notice { tone: Tone::Weak, text: notices.join(" ") });
        true
    }

    /// Closes the program and gives what its store still had to say: so that a command can tell it at its end.
    pub fn close(mut self) -> Vec<String> {
        // Everybody else lets go first: the last one waits for what is still being done.
        self.jobs.close();
        let Stage::Open(open) = std::mem::replace(&mut self.stage, Stage::Closed) else { return Vec::new() };
        let store = open.profile.store.clone();
        drop((open, self));
        store.close().iter().filter(|n| worth_saying(n)).map(ToString::to_string).collect()
    }

    /// Has made and worked out what the page in front shows.
    pub(in crate::app) fn request_jobs(&mut self) {
        let now = self.now();
        if let Some(question) = self.worksheet() {
            self.jobs.worksheet.request(question, now);
        }
        self.request_picture(now);
        if matches!(self.route, Route::Write(_)) {
            self.request_writing(now);
        }
        let Stage::Open(open) = &self.stage else { return };
        let (learner, store, shelf) = (&open.profile.learner, &open.profile.store, &open.shelf);
        match self.route {
            Route::Competence | Route::Knowing => self.jobs.outlook.request(learner, store, shelf, now),
            Route::Plan => self.jobs.plan.request(learner, store, shelf, now),
            Route::Class(at) => self.jobs.class.request(&self.setup.home, at, learner.day(now), now),
            _ => {}
        }
    }

    /// Has the picture of the card that is shown read, and its drawing drawn, if it has any.
    fn request_picture(&mut self, now: Instant) {
        let key = match &self.route {
            Route::Card(key) => Some(key),
            Route::Watch => self.session.as_ref().and_then(|s| s.sheet.as_ref()).map(|sheet| &sheet.key),
            Route::Oral => self.oral.as_ref().and_then(AtOral::lead),
            _ => None,
        };
        let (picture, drawing) = match (&self.stage, key) {
            (Stage::Open(open), Some(key)) => (open.shelf.picture(key), open.shelf.pointing(key)),
            (Stage::Open(open), None) => match &open.writing {
                Some(writing) if matches!(self.route, Route::Write(_)) => writing.pictured(),
                _ => (None, None),
            },
            _ => (None, None),
        };
        self.jobs.picture.request(picture, drawing, now);
    }

    /// The worksheet that is in front: that of a working, or the one outside of any card.
    pub(in crate::app) fn worksheet(&self) -> Option<Question> {
        let open = self.open()?;
        match self.route {
            Route::Worksheet => {
                let lines = open.profile.learner.settings.worksheet.clone();
                Some(Question { lines, ..Question::default() })
            }
            Route::Watch => Some(self.session.as_ref()?.sheet.as_ref()?.desk()?.question()),
            Route::Oral => Some(self.oral.as_ref()?.asked.as_ref()?.sheet.desk()?.question()),
            Route::Write(WritePage::Card) => Some(self.trial()?.sheet.desk()?.question()),
            _ => None,
        }
    }
}

/// The store, where a profile is open.
fn store_of(stage: &Stage) -> Option<&Store> {
    match stage {
        Stage::Open(open) => Some(&open.profile.store),
        _ => None,
    }
}
