//! The real program in a window without a window: on a home of the test's own, by a clock of the test's own, pressed by
//! keys and by accessible names.

use std::cell::{Cell, RefCell};
use std::fs;
use std::ops::{Deref, DerefMut};
use std::path::Path;
use std::rc::Rc;
use std::sync::atomic::{AtomicI64, Ordering};
use std::sync::{Arc, OnceLock};
use std::time::Duration;

use bedplate::app::program::Program;
use bedplate::app::program::app::App;
use bedplate::app::program::command::{CardCommand, Command, ProfileCommand, SettingsCommand, WatchCommand};
use bedplate::app::program::route::Route;
use bedplate::app::program::setup::Setup;
use bedplate::app::reader::Load;
use bedplate::domain::answer::Given;
use bedplate::domain::certificate::Certificate;
use bedplate::domain::day::{Instant, ShipOffset};
use bedplate::domain::ids::CardKey;
use bedplate::domain::settings::ThemeChoice;
use bedplate::present::kinds::AskedView;
use bedplate::present::stage::Stage;
use bedplate::present::{CardPageView, ShellView, View, WatchCardView};
use eframe::egui::Vec2;
use tempfile::TempDir;

use crate::support::bundled;
use crate::support::time::{DAY_MS, TODAY};
use crate::ui::support::{Bench, SIZES};

/// 17:42 of today in UTC, 20:42 at UTC+3.
const EVENING: i64 = TODAY.0 as i64 * DAY_MS + (17 * 60 + 42) * 60_000;

/// The deck of the ship *Marram Light*, which is there for the window's tests alone.
pub fn ship_deck() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/ship"))
}

/// A drawing of that deck: the fuel line of the emergency generator.
pub const FUEL_LINE: &str = include_str!("../../ship/pictures/fuel-line.svg");

/// The key of one of its cards.
pub fn key(card: &str) -> CardKey {
    CardKey::new("marram-light", card)
}

/// Copies a folder with all that lies in it.
pub fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("a folder");
    for entry in fs::read_dir(from).expect("a folder to copy").map(|entry| entry.expect("readable")) {
        let (from, to) = (entry.path(), to.join(entry.file_name()));
        if from.is_dir() {
            copy(&from, &to);
        } else {
            fs::copy(&from, &to).expect("copied");
        }
    }
}

/// What a home has in it, made once: the ship's deck, the program's decks laid out and set aside, and E. Dunmore past the
/// first run, with an oral in 41 days and ship's time three hours ahead of UTC.
fn model() -> &'static Path {
    static MODEL: OnceLock<TempDir> = OnceLock::new();
    let home = MODEL.get_or_init(|| {
        let home = tempfile::tempdir().expect("a folder");
        copy(ship_deck(), &home.path().join("decks/marram-light"));
        bundled::share_in(home.path());
        bundled::set_aside_in(&home.path().join("profiles/e-dunmore"), Instant(EVENING - 60_000));
        let mut app = App::start(setup(home.path(), Some("E. Dunmore"), Arc::new(AtomicI64::new(EVENING))));
        app.settle();
        for command in [
            Command::Profile(ProfileCommand::FinishFirstRun {
                certificate: Certificate::Watch,
                oral: Some(TODAY.plus(41)),
                minutes: 30,
                watch: false,
            }),
            Command::Settings(SettingsCommand::SetLearner("E. Dunmore".to_owned())),
            Command::Settings(SettingsCommand::SetTheme(ThemeChoice::Sheet)),
        ] {
            app.handle(command);
            app.settle();
        }
        assert_eq!(app.close(), [""; 0]);
        home
    });
    home.path()
}

fn setup(home: &Path, learner: Option<&str>, clock: Arc<AtomicI64>) -> Setup {
    Setup {
        home: home.to_owned(),
        dir: home.join("profiles/e-dunmore"),
        learner: learner.map(str::to_owned),
        ship: ShipOffset::from_minutes(180).unwrap_or_default(),
        clock: Arc::new(move || Instant(clock.load(Ordering::SeqCst))),
        wake: Arc::new(|| {}),
        reader: None,
    }
}

/// A home with the ship's deck and nobody's profile yet.
pub fn new_home() -> TempDir {
    let home = tempfile::tempdir().expect("a folder");
    copy(ship_deck(), &home.path().join("decks/marram-light"));
    bundled::share_in(home.path());
    home
}

/// The program, with what it has begun awaited after each command; and every command that a window gave it.
pub struct Settled {
    pub app: Rc<RefCell<App>>,
    pub log: Rc<RefCell<Vec<Command>>>,
    /// Whether things move as they do for a learner who has not asked for stillness.
    pub moving: bool,
    /// When the program last wanted to be woken.
    wanted: Rc<Cell<Option<Duration>>>,
}

impl Settled {
    /// Gives the program a command past the window.
    pub fn run(app: &Rc<RefCell<App>>, command: Command) {
        app.borrow_mut().handle(command);
        app.borrow_mut().settle();
    }
}

impl Program for Settled {
    fn view(&mut self) -> Arc<ShellView> {
        self.app.borrow_mut().view()
    }

    fn command(&mut self, command: Command) {
        self.log.borrow_mut().push(command.clone());
        self.app.borrow_mut().command(command);
        self.app.borrow_mut().settle();
    }

    fn tick(&mut self) -> Option<Duration> {
        let wanted = self.app.borrow_mut().tick();
        self.wanted.set(wanted);
        wanted
    }

    fn theme(&self) -> ThemeChoice {
        self.app.borrow().theme()
    }

    fn scale_percent(&self) -> u32 {
        self.app.borrow().scale_percent()
    }

    fn still(&self) -> bool {
        !self.moving
    }
}

/// A window of a size on a program, and the program.
pub fn on(app: App, size: Vec2) -> (Bench, Rc<RefCell<App>>) {
    let app = Rc::new(RefCell::new(app));
    (open(&app, size, false), app)
}

fn open(app: &Rc<RefCell<App>>, size: Vec2, moving: bool) -> Bench {
    let log = Rc::new(RefCell::new(Vec::new()));
    let wanted = Rc::default();
    let program = Settled { app: Rc::clone(app), log: Rc::clone(&log), moving, wanted: Rc::clone(&wanted) };
    let mut bench = Bench::driving(Box::new(program), log, size, if moving { 0.01 } else { 0.25 });
    bench.wanted = wanted;
    bench
}

/// One view, which no command changes; the commands are noted.
struct Still(Arc<ShellView>, Rc<RefCell<Vec<Command>>>);

impl Program for Still {
    fn view(&mut self) -> Arc<ShellView> {
        Arc::clone(&self.0)
    }

    fn command(&mut self, command: Command) {
        self.1.borrow_mut().push(command);
    }

    fn tick(&mut self) -> Option<Duration> {
        None
    }

    fn theme(&self) -> ThemeChoice {
        ThemeChoice::Sheet
    }

    fn scale_percent(&self) -> u32 {
        100
    }

    fn still(&self) -> bool {
        true
    }
}

/// A window of a size on one view: for what the program never comes to, and yet can say.
pub fn drawn(view: ShellView, size: Vec2) -> Bench {
    let log = Rc::default();
    Bench::driving(Box::new(Still(Arc::new(view), Rc::clone(&log))), log, size, 0.25)
}

/// The program with its home and its clock; windows are opened on it.
pub struct Ship {
    /// The program.
    pub app: Rc<RefCell<App>>,
    /// Its time, in milliseconds.
    pub clock: Arc<AtomicI64>,
    /// Its home folder.
    pub home: TempDir,
}

impl Ship {
    /// E. Dunmore's, past the first run, with the ship's deck alone in the watch.
    pub fn new() -> Self {
        Self::with(|_| {})
    }

    /// The same where the home is changed before the program starts.
    pub fn with(change: impl FnOnce(&Path)) -> Self {
        let home = new_home();
        copy(&model().join("profiles"), &home.path().join("profiles"));
        change(home.path());
        Self::start(home, None)
    }

    /// The same where typed answers are read by a trained reader that is loaded so.
    pub fn reading(load: Load) -> Self {
        let home = new_home();
        copy(&model().join("profiles"), &home.path().join("profiles"));
        Self::start(home, Some(load))
    }

    /// Another program on the same home, as by a second start.
    pub fn second(&self) -> App {
        let mut app = App::start(setup(self.home.path(), None, Arc::clone(&self.clock)));
        app.settle();
        app
    }

    /// A new learner's, before the first run.
    pub fn unmanned() -> Self {
        Self::start(new_home(), None)
    }

    fn start(home: TempDir, reader: Option<Load>) -> Self {
        let clock = Arc::new(AtomicI64::new(EVENING));
        let mut app = App::start(Setup { reader, ..setup(home.path(), None, Arc::clone(&clock)) });
        app.settle();
        Self { app: Rc::new(RefCell::new(app)), clock, home }
    }

    /// Lets so many seconds go by.
    pub fn pass(&self, seconds: i64) {
        self.clock.fetch_add(seconds * 1_000, Ordering::SeqCst);
    }

    /// Gives the program a command past the window.
    pub fn run(&self, command: Command) -> &Self {
        Settled::run(&self.app, command);
        self
    }

    /// Goes to a page.
    pub fn go(&self, route: Route) -> &Self {
        self.run(Command::Go(route))
    }

    /// Lays one of the ship's cards on the sheet.
    pub fn lay(&self, card: &str) -> &Self {
        self.run(Command::Watch(WatchCommand::StudyCards(vec![key(card)])))
    }

    /// Hands an answer in, after so many seconds.
    pub fn give(&self, seconds: i64, given: Given) -> &Self {
        self.pass(seconds);
        self.run(Command::Card(CardCommand::Submit(given)))
    }

    /// What is shown.
    pub fn view(&self) -> Arc<ShellView> {
        self.app.borrow_mut().view()
    }

    /// The card on the sheet.
    pub fn card(&self) -> WatchCardView {
        match &self.view().view {
            View::WatchCard(card) => (**card).clone(),
            other => panic!("no card on the sheet: {other:?}"),
        }
    }

    /// The page of one of the ship's cards in the library, which is left open.
    pub fn page(&self, card: &str) -> CardPageView {
        self.go(Route::Card(key(card)));
        match &self.view().view {
            View::Card(page) => (**page).clone(),
            other => panic!("no page of a card: {other:?}"),
        }
    }

    /// Brings a card to its remedy: it is missed until it is taken apart.
    pub fn remedy(&self, card: &str) -> &Self {
        self.lay(card);
        for _ in 0..8 {
            let given = match self.card().stage {
                Stage::Remedy(_) => return self,
                Stage::Asked(AskedView::Point(_)) => Given::Pointed(bedplate::domain::answer::Pointed::At([1.0, 1.0])),
                _ => Given::Said(Vec::new()),
            };
            self.give(30, given).run(Command::Card(CardCommand::Accept));
        }
        panic!("{card} is not taken apart");
    }

    /// A window of a size on it as it stands.
    pub fn window(&self, size: Vec2) -> Bench {
        open(&self.app, size, false)
    }

    /// The same where things move; its frames take a hundredth of a second.
    pub fn moving(&self) -> Bench {
        open(&self.app, SIZES[0], true)
    }

    /// A window of the designed size, which keeps the program.
    pub fn manned(self) -> Manned {
        self.manned_at(SIZES[0])
    }

    /// The same of another size.
    pub fn manned_at(self, size: Vec2) -> Manned {
        Manned { bench: self.window(size), ship: self }
    }
}

/// A program in its window.
pub struct Manned {
    bench: Bench,
    /// The program.
    pub ship: Ship,
}

impl Deref for Manned {
    type Target = Bench;

    fn deref(&self) -> &Bench {
        &self.bench
    }
}

impl DerefMut for Manned {
    fn deref_mut(&mut self) -> &mut Bench {
        &mut self.bench
    }
}
