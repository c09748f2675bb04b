//! The program's state while it runs.

use std::collections::VecDeque;
use std::sync::Arc;

use crate::app::jobs::Jobs;
use crate::app::jobs::crew::Crew;
use crate::app::jobs::worksheet::work_out;
use crate::app::profile::editions::News;
use crate::app::profile::opening::{Failure, Find, Opening, Profile};
use crate::app::profile::shelf::Shelf;
use crate::app::profile::trouble::Trouble;
use crate::app::program::keeping::OnItsWay;
use crate::app::program::notices::Notices;
use crate::app::program::route::Route;
use crate::app::program::setup::{Clock, Setup};
use crate::app::program::timekeeper::Timekeeper;
use crate::app::sheet::Session;
use crate::app::sitting::AtOral;
use crate::app::writing::AtWriting;
use crate::devices::{Devices, Doing};
use crate::domain::attempt::Attempt;
use crate::domain::day::Instant;
use crate::domain::english;
use crate::domain::ids::{CardKey, DeckId};
use crate::present::editions::{EditionView, WithdrawnRow};
use crate::present::{Notice, ShellView};
use crate::store::Store;

/// The program.
pub struct App {
    pub(in crate::app) setup: Setup,
    pub(in crate::app) stage: Stage,
    pub(in crate::app) route: Route,
    pub(in crate::app) session: Option<Session>,
    pub(in crate::app) oral: Option<AtOral>,
    pub(in crate::app) keeping: OnItsWay,
    pub(in crate::app) jobs: Jobs,
    pub(in crate::app) sound: Sound,
    pub(in crate::app) worksheets: Worksheets,
    pub(in crate::app) notices: Notices,
    pub(in crate::app) timekeeper: Timekeeper,
    /// What is shown, and when it was made; none where something has changed since.
    pub(in crate::app) shown: Option<(Instant, Arc<ShellView>)>,
}

/// How far the program has come.
pub(in crate::app) enum Stage {
    /// The decks are being read and the profile opened, since then.
    Opening(Instant),
    /// All is open.
    Open(Box<Open>),
    /// The profile could not be opened; where its place could not even be found, it is looked for again.
    Trouble(Box<Trouble>, Option<Find>),
    /// Between two profiles.
    Closed,
}

/// What is open.
pub(in crate::app) struct Open {
    pub(in crate::app) shelf: Shelf,
    pub(in crate::app) profile: Profile,
    /// The attempts at the card whose page is in front.
    pub(in crate::app) history: Option<(CardKey, Vec<Attempt>)>,
    /// What the edition whose page is in front brought.
    pub(in crate::app) update: Option<(News, EditionView)>,
    /// What cards asked that the deck whose page is in front has no more.
    pub(in crate::app) withdrawn: Option<(DeckId, Vec<WithdrawnRow>)>,
    /// Editions that have come in and were not looked at yet.
    pub(in crate::app) news: VecDeque<News>,
    /// The seed that was used last.
    pub(in crate::app) seed: u64,
    /// The deck that is being written.
    pub(in crate::app) writing: Option<Box<AtWriting>>,
}

/// The machine's voice, microphone and loudspeaker.
pub(in crate::app) struct Sound {
    pub(in crate::app) devices: Devices,
    /// The voice was reading, and what the sound did, when they were last looked at.
    pub(in crate::app) was: (bool, Doing),
    /// Troubles with voice and sound that have been told.
    pub(in crate::app) told: Vec<String>,
}

/// The worksheets of this session.
#[derive(Default)]
pub(in crate::app) struct Worksheets {
    /// Lines entered, the newest first.
    pub(in crate::app) earlier: Arc<Vec<String>>,
    /// The standing worksheet reads otherwise than the store knows, since then.
    pub(in crate::app) unsaved: Option<Instant>,
}

impl Sound {
    /// Nothing heard yet, and nothing told.
    pub(in crate::app) fn of(devices: Devices) -> Self {
        Self { devices, was: (false, Doing::Nothing), told: Vec::new() }
    }
}

impl App {
    /// Starts the program; the profile opens in the background.
    pub fn start(setup: Setup) -> Self {
        Self::start_by(setup, Store::open)
    }

    /// Starts the program to look at the profile: where another program has it open, it is read only.
    pub fn start_to_read(setup: Setup) -> Self {
        Self::start_by(setup, Store::open_or_read)
    }

    fn start_by(setup: Setup, opening: Opening) -> Self {
        let mut app = Self::at(setup, Stage::Closed);
        app.begin_opening(opening);
        app
    }

    /// Starts the program where the profile's place could not even be found, for want of room or of rights: it says
    /// why, and looks again when asked to. `setup` is what it goes by until then.
    pub fn in_trouble(setup: Setup, failure: &Failure, find: Find) -> Self {
        let trouble = Trouble::from(failure, setup.ship);
        Self { route: Route::StoreTrouble, ..Self::at(setup, Stage::Trouble(Box::new(trouble), Some(find))) }
    }

    fn at(setup: Setup, stage: Stage) -> Self {
        Self {
            jobs: Jobs::new(setup.wake.clone(), work_out, setup.reader.clone()),
            setup,
            stage,
            route: Route::Watch,
            session: None,
            oral: None,
            keeping: OnItsWay::default(),
            sound: Sound::of(Devices::silent()),
            worksheets: Worksheets::default(),
            notices: Notices::default(),
            timekeeper: Timekeeper::default(),
            shown: None,
        }
    }

    /// Has the profile of the setup opened in the background.
    fn begin_opening(&mut self, opening: Opening) {
        let now = self.now();
        self.stage = Stage::Opening(now);
        self.jobs.opening.request(self.setup.clone(), opening, now);
    }

    /// Begins again with the profile of another setup, or of the same; what was open is closed first.
    pub(in crate::app) fn begin_anew(&mut self, setup: Setup) {
        self.jobs.reopen();
        // The old store is closed before the new one is asked for, so that a profile may be opened again.
        self.stage = Stage::Closed;
        let devices = std::mem::replace(&mut self.sound.devices, Devices::silent());
        self.setup = setup;
        (self.route, self.session, self.oral) = (Route::Watch, None, None);
        (self.keeping, self.worksheets, self.notices) = Default::default();
        (self.sound, self.timekeeper, self.shown) = (Sound::of(devices), self.timekeeper.anew(), None);
        self.begin_opening(Store::open);
    }

    /// Gives the program the machine's voice and sound.
    pub fn with_devices(mut self, devices: Devices) -> Self {
        self.sound.devices = devices;
        self
    }

    /// Has the clock held against a count of milliseconds that goes on evenly while the computer sleeps, too, and that
    /// nobody can set.
    pub fn with_steady(mut self, steady: Clock) -> Self {
        self.timekeeper.steady = Some(steady);
        self
    }

    /// Has the clock not judged: the time was given by hand, or nothing is kept by it.
    pub fn trust_clock(mut self) -> Self {
        self.timekeeper.given = true;
        self
    }

    /// Pictures are named and not read from now on: for faces that cannot draw.
    pub fn leave_pictures_unread(&mut self) {
        self.jobs.picture.leave_unread();
    }

    /// The time.
    pub fn now(&self) -> Instant {
        (self.setup.clock)()
    }

    /// The threads that work for this program in the background, besides the store's own.
    pub fn crew(&self) -> Crew {
        self.jobs.crew().clone()
    }

    /// Shows a notice.
    pub(in crate::app) fn say(&mut self, notice: Notice) {
        self.notices.shown = Some(notice);
    }

    /// Puts a failed request on the notice line.
    pub(in crate::app) fn fail(&mut self, error: &dyn std::error::Error) {
        self.say(Notice::failed(english::sentence(&error.to_string())));
    }

    pub(in crate::app) fn open(&self) -> Option<&Open> {
        match &self.stage {
            Stage::Open(open) => Some(open),
            _ => None,
        }
    }

    pub(in crate::app) fn open_mut(&mut self) -> Option<&mut Open> {
        match &mut self.stage {
            Stage::Open(open) => Some(open),
            _ => None,
        }
    }

    /// A seed that was not used before.
    pub(in crate::app) fn fresh_seed(&mut self) -> u64 {
        self.open_mut().map_or(0, |open| {
            open.seed = open.seed.wrapping_add(1);
            open.seed
        })
    }
}
