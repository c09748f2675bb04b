//! A sample program for the window: invented data of the ship *Marram Light*, and just enough behaviour that
//! every screen can be walked through. It marks by simple comparison; the engines are not asked.

use std::cell::RefCell;
use std::rc::Rc;
use std::sync::Arc;
use std::time::Duration;

use bedplate::app::command::Command;
use bedplate::app::program::Program;
use bedplate::app::route::Route;
use bedplate::domain::answer::Given;
use bedplate::domain::attempt::Until;
use bedplate::domain::day::StudyDay;
use bedplate::domain::ids::CardKey;
use bedplate::domain::outcome::{Notch, Outcome};
use bedplate::domain::settings::{Settings, ThemeChoice};
use bedplate::present::shell::RailView;
use bedplate::present::watch::{FrontState, Stage};
use bedplate::present::{Notice, PictureView, Place, ShellView, View, words};

#[path = "sample_data.rs"]
pub mod data;

/// Wednesday 25 November 2026.
pub const TODAY: StudyDay = StudyDay(20_782);

/// The program's state; `log` is every command it was given.
pub struct Sample {
    /// Where one is.
    pub route: Route,
    /// What the front page offers.
    pub front: FrontState,
    /// The learner's choices.
    pub settings: Settings,
    /// Every command so far.
    pub log: Rc<RefCell<Vec<Command>>>,
    /// Where the watch stands: card by card.
    pub watch: Watch,
    /// Shown above the sheet.
    pub notice: Option<Notice>,
    /// What is searched for.
    pub search: String,
    /// Set aside in the library.
    pub aside: bool,
    /// So many cards in the deck, in the place of its five; none means those.
    pub many: usize,
    /// A picture on every card.
    pub picture: Option<PictureView>,
    /// Which trouble is shown.
    pub trouble: bedplate::present::pages::TroubleKind,
}

/// Where the watch stands.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Watch {
    /// The front page.
    Front,
    /// The card of this number, of `data::CARDS`.
    Card(usize),
    /// The end.
    End,
}

/// What was done on the card so far.
#[derive(Default)]
pub struct OnCard {
    /// The answer, once it is in.
    pub given: Option<Given>,
    /// Points that are ticked.
    pub said: Vec<usize>,
    /// The learner's notch.
    pub notch: Notch,
    /// Parts of a remedy uncovered.
    pub shown: usize,
}

impl Default for Sample {
    fn default() -> Self {
        let settings = Settings {
            learner: "E. Dunmore".to_owned(),
            oral: Some(TODAY.plus(41)),
            ship: bedplate::domain::day::ShipOffset::from_minutes(180).unwrap_or_default(),
            theme: ThemeChoice::Sheet,
            ..Settings::default()
        };
        Self {
            route: Route::Watch,
            front: FrontState::Ready,
            settings,
            log: Rc::default(),
            watch: Watch::Front,
            notice: None,
            search: String::new(),
            aside: false,
            many: 0,
            picture: None,
            trouble: bedplate::present::pages::TroubleKind::InUse,
        }
    }
}

/// The sample with what is on its card; a program for the window.
#[derive(Default)]
pub struct SampleProgram {
    /// State.
    pub sample: Sample,
    /// The card's state.
    pub on_card: OnCard,
}

impl SampleProgram {
    /// At a place.
    pub fn at(route: Route) -> Self {
        Self { sample: Sample { route, ..Sample::default() }, ..Self::default() }
    }

    /// On a card of the watch.
    pub fn on(card: usize) -> Self {
        let mut program = Self::at(Route::Watch);
        program.sample.watch = Watch::Card(card);
        program.on_card.shown = 1;
        program
    }

    fn page(&self) -> (&'static str, String, Option<f32>, View) {
        let s = &self.sample;
        let plain = |title, context: &str, view| (title, context.to_owned(), None, view);
        match (&s.route, s.watch) {
            (Route::FirstRun, _) => plain("Bedplate", "First run", View::FirstRun(Box::new(data::first_run()))),
            (Route::Watch, Watch::Front) => plain("Watch", "Today", View::WatchFront(Box::new(data::front(s.front)))),
            (Route::Watch, Watch::Card(n)) => {
                let mut view = data::card(n, &self.on_card);
                view.picture = s.picture.clone();
                let context = format!("Card {} of {}", n + 1, data::CARDS);
                let share = n as f32 / data::CARDS as f32;
                ("Watch", context, Some(share), View::WatchCard(Box::new(view)))
            }
            (Route::Watch, Watch::End) => plain("Watch", "Stood down", View::WatchEnd(Box::new(data::end()))),
            // The sample has no oral and no table: they are tried on the program itself.
            (
                Route::Competence
                | Route::Knowing
                | Route::Plan
                | Route::OralFront
                | Route::Oral
                | Route::Blueprint
                | Route::Debrief(_),
                _,
            ) => plain("Oral", "", View::Opening),
            (Route::Library, _) => {
                plain("Library", "Three decks, 201 cards", View::Library(Box::new(data::library(&s.search))))
            }
            (Route::Deck(_), _) => plain("Library", "Marram Light", View::Deck(Box::new(data::deck_of(s.many)))),
            (Route::Card(key), _) => {
                let mut view = data::card_page(key, s.aside);
                view.picture = s.picture.clone();
                plain("Library", "Card 9 of 17", View::Card(Box::new(view)))
            }
            (Route::Worksheet, _) => plain(
                "Worksheet",
                "",
                View::Worksheet(Box::new(bedplate::app::views::working::page(Default::default()))),
            ),
            (Route::Profiles, _) => plain("Learners", "", View::Profiles(Box::new(data::profiles()))),
            (Route::Settings, _) => plain("Settings", "", View::Settings(Box::new(data::settings(&s.settings)))),
            (Route::About, _) => plain("About", "", View::About(Box::new(data::about()))),
            (Route::StoreTrouble, _) => {
                let view = data::trouble(s.trouble.clone());
                plain("Bedplate", "The records of E. Dunmore", View::StoreTrouble(Box::new(view)))
            }
        }
    }

    fn next_card(&mut self) {
        self.on_card = OnCard { shown: 1, ..OnCard::default() };
        if let Watch::Card(n) = self.sample.watch {
            self.sample.watch = if n + 1 < data::CARDS { Watch::Card(n + 1) } else { Watch::End };
        }
    }
}

impl Program for SampleProgram {
    fn view(&mut self) -> Arc<ShellView> {
        let (title, context, progress, view) = self.page();
        let s = &self.sample;
        let place = match s.route {
            Route::Watch => Some(Place::Watch),
            Route::Competence | Route::Knowing => Some(Place::Competence),
            Route::Plan => Some(Place::Plan),
            Route::OralFront | Route::Oral | Route::Blueprint | Route::Debrief(_) => Some(Place::Oral),
            Route::Library | Route::Deck(_) | Route::Card(_) => Some(Place::Library),
            Route::Worksheet => Some(Place::Worksheet),
            Route::Settings => Some(Place::Settings),
            Route::About => Some(Place::About),
            Route::Profiles => Some(Place::Profiles),
            Route::FirstRun | Route::StoreTrouble => None,
        };
        let rail = RailView {
            place,
            learner: s.settings.learner.clone(),
            clock: "20:42".to_owned(),
            offset: s.settings.ship.label(),
            oral: s.settings.oral.map(|day| words::oral_line(day, TODAY)),
        };
        Arc::new(ShellView { rail, title: title.to_owned(), context, notice: s.notice.clone(), progress, view })
    }

    fn command(&mut self, command: Command) {
        self.sample.log.borrow_mut().push(command.clone());
        let s = &mut self.sample;
        match command {
            Command::Go(route) => s.route = route,
            Command::FinishFirstRun { certificate, oral, minutes, watch } => {
                (s.settings.certificate, s.settings.oral, s.settings.minutes) = (certificate, oral, minutes);
                s.route = Route::Watch;
                s.watch = if watch { Watch::Card(0) } else { Watch::Front };
            }
            Command::StandWatch { .. } => {
                s.watch = Watch::Card(0);
                self.on_card = OnCard { shown: 1, ..OnCard::default() };
            }
            Command::LeaveWatch => s.watch = Watch::Front,
            Command::ShowPoints => self.on_card.given = Some(Given::Said(vec![])),
            Command::Submit(given) => {
                if let Given::Text(text) = &given {
                    self.on_card.said = data::found(text);
                }
                self.on_card.given = Some(given);
            }
            Command::Tick(n) => match self.on_card.said.iter().position(|p| *p == n) {
                Some(at) => drop(self.on_card.said.remove(at)),
                None => self.on_card.said.push(n),
            },
            Command::SetNotch(notch) => self.on_card.notch = notch,
            Command::Accept => self.next_card(),
            Command::RemedyOn => {
                self.on_card.shown += 1;
                let parts = matches!(data::card(3, &self.on_card).stage, Stage::Remedy { parts, shown, .. } if shown > parts.len());
                if parts {
                    self.next_card();
                }
            }
            Command::SetAside { until, .. } => {
                s.aside = until != Until::Back;
                s.notice = Some(Notice::done(if s.aside { "Set aside." } else { "Brought back." }));
            }
            Command::ReportFault { .. } => s.notice = Some(Notice::done("The report is kept with the deck.")),
            Command::Search(text) => s.search = text,
            Command::RereadDecks => s.notice = Some(Notice::done("Three decks read, one problem.")),
            Command::SetShip(ship) => s.settings.ship = ship,
            Command::SetTheme(theme) => s.settings.theme = theme,
            Command::SetScale(scale) => s.settings.scale_percent = scale,
            Command::SetStill(still) => s.settings.still = still,
            Command::SetMinutes(minutes) => s.settings.minutes = minutes,
            Command::SetRecallTarget(target) => s.settings.recall_target = target,
            Command::SetOral(oral) => s.settings.oral = oral,
            Command::SetCertificate(certificate) => s.settings.certificate = certificate,
            Command::SetLearner(learner) => s.settings.learner = learner,
            Command::DismissNotice => s.notice = None,
            _ => {}
        }
    }

    fn tick(&mut self) -> Option<Duration> {
        None
    }

    fn theme(&self) -> ThemeChoice {
        self.sample.settings.theme
    }

    fn scale_percent(&self) -> u32 {
        self.sample.settings.scale_percent
    }

    fn still(&self) -> bool {
        self.sample.settings.still
    }
}

/// The key of a sample card.
pub fn key(card: &str) -> CardKey {
    CardKey::new("marram-light", card)
}

/// An outcome from ticked points, as the deck format states it.
pub fn outcome(said: &[usize], points: usize, critical: &[usize]) -> Outcome {
    if critical.iter().any(|c| !said.contains(c)) {
        Outcome::Missed
    } else {
        Outcome::from_share(said.len() as f64, points as f64, false)
    }
}
