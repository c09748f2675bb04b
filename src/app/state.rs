//! The program's state while it runs, and what it does between commands.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError};
use std::time::Duration;

use crate::app::notices::Noticed;
use crate::app::opening::{self, Failure, Opening, Profile, Ready};
use crate::app::outlook::Outlooks;
use crate::app::picture::Pictures;
use crate::app::planner::Planner;
use crate::app::reckoner::{Question, Reckoner, work_out};
use crate::app::remaining::Remaining;
use crate::app::route::Route;
use crate::app::search::Search;
use crate::app::session::Session;
use crate::app::shelf::Shelf;
use crate::app::sitting::{AtOral, KeepingTurn};
use crate::app::timekeeper::Timekeeper;
use crate::app::trainer::Trainer;
use crate::app::trouble::Trouble;
use crate::deck::Reading;
use crate::devices::{Devices, Doing};
use crate::domain::attempt::Attempt;
use crate::domain::day::{Instant, ShipOffset};
use crate::domain::ids::CardKey;
use crate::domain::memory::CardMemory;
use crate::present::{Notice, ShellView, Tone, words};
use crate::store::{Store, Ticket, Wake};

/// The time, as an argument of the whole program: a real clock in the window, a given one in tests.
pub type Clock = Arc<dyn Fn() -> Instant + Send + Sync>;

/// What the program is started with.
#[derive(Clone)]
pub struct Setup {
    /// The home folder: profiles and decks.
    pub home: PathBuf,
    /// The profile's folder.
    pub dir: PathBuf,
    /// A name for the learner where the profile is new.
    pub learner: Option<String>,
    /// Ship's time where the profile is new.
    pub ship: ShipOffset,
    /// The time.
    pub clock: Clock,
    /// Called when background work has something.
    pub wake: Wake,
}

/// Looks for the profile's place: again on *Try again*, where it could not be found.
pub type Find = Arc<dyn Fn() -> Result<Setup, Failure>>;

/// The program.
pub struct App {
    pub(super) setup: Setup,
    /// The profile's place has not been found yet.
    pub(super) find: Option<Find>,
    pub(super) stage: Stage,
    pub(super) route: Route,
    pub(super) session: Option<Session>,
    pub(super) keeping: Option<Keeping>,
    /// An answer that is being taken back.
    pub(super) taking_back: Option<Ticket<Changed>>,
    pub(super) oral: Option<AtOral>,
    pub(super) keeping_turn: Option<KeepingTurn>,
    pub(super) outlooks: Outlooks,
    pub(super) planner: Planner,
    pub(super) trainer: Trainer,
    pub(super) devices: Devices,
    /// The voice was reading, and what the sound did, when they were last looked at.
    pub(super) sound_was: (bool, Doing),
    /// Troubles with voice and sound that have been told.
    pub(super) troubles_told: Vec<String>,
    pub(super) search: Search,
    pub(super) remaining: Remaining,
    pub(super) history: Option<(CardKey, Vec<Attempt>)>,
    pub(super) pictures: Pictures,
    pub(super) reckoner: Reckoner,
    /// Lines of worksheets entered in this session, the newest first.
    pub(super) earlier: Arc<Vec<String>>,
    /// The standing worksheet reads otherwise than the store knows, since then.
    pub(super) unsaved: Option<Instant>,
    pub(super) saving: Vec<Ticket<()>>,
    pub(super) notice: Option<Notice>,
    pub(super) noticed: Noticed,
    pub(super) timekeeper: Timekeeper,
    pub(super) shown: Option<(Instant, Arc<ShellView>)>,
    pub(super) seed: u64,
}

/// How far the program has come.
pub(super) enum Stage {
    /// The decks are being read and the profile opened.
    Opening(Receiver<Result<Ready, Failure>>),
    /// All is open.
    Open(Box<Open>),
    /// The profile could not be opened.
    Trouble(Trouble),
    /// Between two profiles.
    Closed,
}

/// What is open.
pub(super) struct Open {
    pub(super) shelf: Shelf,
    pub(super) profile: Profile,
}

/// Cards with their memory from now on; none where nothing is known of them any more.
pub(super) type Changed = Vec<(CardKey, Option<CardMemory>)>;

/// An attempt on its way into the store: the sheet moves on only when it is there.
pub(super) struct Keeping {
    pub(super) attempt: Attempt,
    pub(super) memory: CardMemory,
    pub(super) why_missed: Option<String>,
    pub(super) ticket: Ticket<()>,
}

impl App {
    /// Starts the program; the profile opens in the background.
    pub fn start(setup: Setup) -> Self {
        Self::start_by(setup, Store::open)
    }

    /// The same to look at the profile: where another program has it open, it is read only.
    pub fn start_to_read(setup: Setup) -> Self {
        Self::start_by(setup, Store::open_or_read)
    }

    fn start_by(setup: Setup, opening: Opening) -> Self {
        let now = (setup.clock)();
        let stage = Stage::Opening(opening::in_background(setup.clone(), now, opening));
        Self::at(setup, stage)
    }

    /// Starts the program where the profile's place could not even be found, for want of room or of rights: it says
    /// why, and looks again when asked to. `setup` is what it goes by until then.
    pub fn in_trouble(setup: Setup, failure: &Failure, find: Find) -> Self {
        let stage = Stage::Trouble(Trouble::from(failure, setup.ship));
        Self { find: Some(find), route: Route::StoreTrouble, ..Self::at(setup, stage) }
    }

    fn at(setup: Setup, stage: Stage) -> Self {
        let seed = (setup.clock)().0.unsigned_abs();
        Self {
            setup,
            find: None,
            stage,
            route: Route::Watch,
            session: None,
            keeping: None,
            taking_back: None,
            oral: None,
            keeping_turn: None,
            outlooks: Outlooks::default(),
            planner: Planner::default(),
            trainer: Trainer::default(),
            devices: Devices::silent(),
            sound_was: (false, Doing::Nothing),
            troubles_told: Vec::new(),
            search: Search::default(),
            remaining: Remaining::default(),
            history: None,
            pictures: Pictures::default(),
            reckoner: Reckoner::new(work_out),
            earlier: Arc::default(),
            unsaved: None,
            saving: Vec::new(),
            notice: None,
            noticed: Noticed::default(),
            timekeeper: Timekeeper::default(),
            shown: None,
            seed,
        }
    }

    /// The same with the machine's voice and sound.
    pub fn with_devices(mut self, devices: Devices) -> Self {
        self.devices = devices;
        self
    }

    /// The time.
    pub fn now(&self) -> Instant {
        (self.setup.clock)()
    }

    /// Blocks until nothing is on its way: for faces without frames.
    pub fn settle(&mut self) {
        if let Stage::Opening(answer) = &self.stage {
            let answer = answer.recv();
            self.opened(answer.map_err(|_| TryRecvError::Disconnected));
        }
        if let Some(keeping) = self.keeping.take() {
            let Keeping { attempt, memory, why_missed, ticket } = keeping;
            let kept = ticket.wait();
            self.kept(attempt, memory, why_missed, kept);
        }
        if let Some(ticket) = self.taking_back.take() {
            let answer = ticket.wait();
            self.taken_back(answer);
        }
        if let Some(keeping) = self.keeping_turn.take() {
            let KeepingTurn { turn, attempt, ticket } = keeping;
            let kept = ticket.wait();
            self.turn_kept(turn, attempt, kept);
        }
        let now = self.now();
        self.mind_clock();
        self.poll_sound(now);
        self.save_worksheet();
        for ticket in std::mem::take(&mut self.saving) {
            if let Err(error) = ticket.wait() {
                self.fail(&error);
            }
        }
        while let Some((folder, reading)) = self.remaining.wait() {
            self.complete(&folder, reading);
        }
        self.search.settle();
        if self.mend_search() {
            self.search.settle();
        }
        self.take_notices();
        self.hold_picture();
        self.pictures.settle();
        self.hold_worksheet();
        self.reckoner.settle(&self.setup.wake);
        while self.trainer.progress().is_some() {
            self.mind_training();
            std::thread::sleep(Duration::from_millis(5));
        }
        self.hold_outlook();
        if let Err(error) = self.outlooks.settle() {
            self.fail(&error);
        }
        self.hold_plan();
        if let Err(error) = self.planner.settle() {
            self.fail(&error);
        }
        self.shown = None;
    }

    /// Takes in what has come; gives the time until the screen changes by itself.
    pub(super) fn take_in(&mut self) -> Option<Duration> {
        let mut changed = false;
        if let Stage::Opening(answer) = &self.stage {
            match answer.try_recv() {
                Err(TryRecvError::Empty) => {}
                answer => {
                    self.opened(answer);
                    changed = true;
                }
            }
        }
        if let Some(answer) = self.keeping.as_ref().and_then(|k| k.ticket.try_take())
            && let Some(Keeping { attempt, memory, why_missed, .. }) = self.keeping.take()
        {
            self.kept(attempt, memory, why_missed, answer);
            changed = true;
        }
        if let Some(answer) = self.taking_back.as_ref().and_then(Ticket::try_take) {
            self.taking_back = None;
            self.taken_back(answer);
            changed = true;
        }
        if let Some(answer) = self.keeping_turn.as_ref().and_then(|k| k.ticket.try_take())
            && let Some(KeepingTurn { turn, attempt, .. }) = self.keeping_turn.take()
        {
            self.turn_kept(turn, attempt, answer);
            changed = true;
        }
        let mut failed = None;
        self.saving.retain(|ticket| match ticket.try_take() {
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
        while let Some((folder, reading)) = self.remaining.take() {
            self.complete(&folder, reading);
            changed = true;
        }
        changed |= self.search.take_in();
        self.mend_search();
        if let Some(error) = self.search.take_failure() {
            self.fail(&error);
        }
        changed |= self.take_notices();
        let now = self.now();
        changed |= self.mind_clock();
        changed |= self.pictures.take_in(now, &self.setup.wake);
        changed |= self.reckoner.take_in(now, &self.setup.wake);
        changed |= self.poll_sound(now);
        match self.outlooks.take_in(&self.setup.wake) {
            Ok(come) => changed |= come,
            Err(error) => {
                self.fail(&error);
                changed = true;
            }
        }
        match self.planner.take_in(&self.setup.wake) {
            Ok(come) => changed |= come,
            Err(error) => {
                self.fail(&error);
                changed = true;
            }
        }
        changed |= self.mind_training();
        let until_saved = self.save_in_time(now);
        let (gone, until_gone) = self.mind_notice(now);
        changed |= gone;
        if changed {
            self.shown = None;
        }
        let clock_runs = self
            .session
            .as_ref()
            .and_then(|s| s.sheet.as_ref())
            .is_some_and(|sheet| sheet.clock_runs() && self.route == Route::Watch)
            || (self.route == Route::Oral && self.oral.as_ref().is_some_and(AtOral::clock_runs));
        let step_ms = if clock_runs { 1_000 } else { 60_000 };
        if let Some((at, _)) = &self.shown
            && at.0.div_euclid(step_ms) != now.0.div_euclid(step_ms)
        {
            self.shown = None;
        }
        let left = step_ms - now.0.rem_euclid(step_ms);
        let left = Duration::from_millis(left.unsigned_abs());
        let sooner = [self.pictures.until(now), self.reckoner.until(now), until_saved, until_gone, self.until_clock()];
        let sooner = sooner.into_iter().flatten().min();
        if matches!(self.stage, Stage::Open(_)) { Some(sooner.map_or(left, |sooner| sooner.min(left))) } else { sooner }
    }

    /// Pictures are named and not read from now on: for faces that cannot draw.
    pub fn leave_pictures_unread(&mut self) {
        self.pictures.leave_unread();
    }

    /// Has the picture of the card that is shown read, and its drawing drawn, if it has any.
    pub(super) fn hold_picture(&mut self) {
        let now = self.now();
        let key = match &self.route {
            Route::Card(key) => Some(key),
            Route::Watch => self.session.as_ref().and_then(|s| s.sheet.as_ref()).map(|sheet| &sheet.key),
            Route::Oral => self.oral.as_ref().and_then(AtOral::lead),
            _ => None,
        };
        let (picture, drawing) = match (&self.stage, key) {
            (Stage::Open(open), Some(key)) => (open.shelf.picture(key), open.shelf.pointing(key)),
            _ => (None, None),
        };
        self.pictures.hold(picture, drawing, now, &self.setup.wake);
    }

    /// Has the worksheet that is in front worked out.
    pub(super) fn hold_worksheet(&mut self) {
        if let Some(question) = self.worksheet() {
            let now = self.now();
            self.reckoner.hold(question, now, &self.setup.wake);
        }
    }

    /// Has the chance of passing worked out while the page that shows it is in front.
    pub(super) fn hold_outlook(&mut self) {
        let now = self.now();
        if matches!(self.route, Route::Competence | Route::Knowing)
            && let Stage::Open(open) = &self.stage
        {
            let learner = &open.profile.learner;
            self.outlooks.hold(learner, &open.profile.store, &open.shelf, learner.day(now));
        }
    }

    /// Has the plan worked out while its page is in front.
    pub(super) fn hold_plan(&mut self) {
        let now = self.now();
        if self.route == Route::Plan
            && let Stage::Open(open) = &self.stage
        {
            let learner = &open.profile.learner;
            self.planner.hold(learner, &open.profile.store, &open.shelf, learner.day(now));
        }
    }

    /// The worksheet that is in front: that of a working, or the one outside of any card.
    pub(super) fn worksheet(&self) -> Option<Question> {
        let Stage::Open(open) = &self.stage else { return None };
        match self.route {
            Route::Worksheet => {
                let lines = open.profile.learner.settings.worksheet.clone();
                Some(Question { lines, ..Question::default() })
            }
            Route::Watch => Some(self.session.as_ref()?.sheet.as_ref()?.desk()?.question()),
            Route::Oral => Some(self.oral.as_ref()?.asked.as_ref()?.sheet.desk()?.question()),
            _ => None,
        }
    }

    /// Reads the decks into the search again where its index was of no use; without a word.
    fn mend_search(&mut self) -> bool {
        match &self.stage {
            Stage::Open(open) => self.search.mend(&open.profile.store, &open.shelf),
            _ => false,
        }
    }

    /// Closes the program and gives what its store still had to say: so that a command can tell it at its end.
    pub fn close(self) -> Vec<String> {
        let Stage::Open(open) = self.stage else { return Vec::new() };
        let store = open.profile.store.clone();
        // Everybody else lets go first: the last one waits for what is still being done.
        drop((open, self.outlooks, self.planner, self.trainer, self.search));
        store.close().iter().filter(|n| worth_saying(n)).map(ToString::to_string).collect()
    }

    /// What the store has to say of its own work, such as a backup that could not be made.
    fn take_notices(&mut self) -> bool {
        let Some(open) = self.open() else { return false };
        let notices: Vec<String> =
            open.profile.store.take_notices().iter().filter(|n| worth_saying(n)).map(ToString::to_string).collect();
        if notices.is_empty() {
            return false;
        }
        self.notice = Some(Notice { tone: Tone::Weak, text: notices.join(" ") });
        true
    }

    fn opened(&mut self, answer: Result<Result<Ready, Failure>, TryRecvError>) {
        match answer {
            Ok(Ok(Ready { shelf, profile, indexing, notices })) => {
                let settings = &profile.learner.settings;
                let over = settings.oral.is_some_and(|oral| oral < profile.learner.day((self.setup.clock)()));
                self.route = match settings.first_run_done {
                    false => Route::FirstRun,
                    // The result of the oral is asked for once.
                    true if over => Route::Plan,
                    true => Route::Watch,
                };
                if !notices.is_empty() {
                    self.notice = Some(Notice { tone: Tone::Plain, text: notices.join(" ") });
                }
                self.search = Search::indexing(indexing);
                self.remaining.begin(shelf.rest(), &self.setup.wake);
                self.stage = Stage::Open(Box::new(Open { shelf, profile }));
                if !self.clock_is_doubted() {
                    self.delete_old_recordings();
                }
            }
            Ok(Err(failure)) => {
                self.route = Route::StoreTrouble;
                self.stage = Stage::Trouble(Trouble::from(&failure, self.setup.ship));
            }
            Err(_) => {
                self.route = Route::StoreTrouble;
                self.stage = Stage::Trouble(Trouble::unknown());
            }
        }
    }

    /// A deck whose drawings took long has been read whole.
    fn complete(&mut self, folder: &Path, reading: Reading) {
        let Some(open) = self.open_mut() else { return };
        open.shelf.complete(folder, reading);
        let indexing = crate::app::search::index(&open.profile.store, &open.shelf);
        self.search.reindex(indexing);
    }

    /// Puts a failed request on the notice line.
    pub(super) fn fail(&mut self, error: &dyn std::error::Error) {
        self.notice = Some(Notice::failed(words::sentence(&error.to_string())));
    }

    pub(super) fn open(&self) -> Option<&Open> {
        match &self.stage {
            Stage::Open(open) => Some(open),
            _ => None,
        }
    }

    pub(super) fn open_mut(&mut self) -> Option<&mut Open> {
        match &mut self.stage {
            Stage::Open(open) => Some(open),
            _ => None,
        }
    }
}

/// A backup made in peace is nothing to interrupt a watch for.
pub fn worth_saying(notice: &crate::store::Notice) -> bool {
    !matches!(notice, crate::store::Notice::BackupMade { .. } | crate::store::Notice::Created)
}
