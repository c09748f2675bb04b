//! A computer with a profile, and what a learner does on it.

use std::path::PathBuf;
use std::sync::Arc;

use bedplate::domain::attempt::{Attempt, SetAside, Until};
use bedplate::domain::certificate::Certificate;
use bedplate::domain::day::{Instant, ShipOffset};
use bedplate::domain::ids::CardKey;
use bedplate::domain::memory::CardMemory;
use bedplate::domain::oral::{Answered, MarkedBy};
use bedplate::domain::oral::{Asked, Blueprint, Draw, Manner, Question, Setup, Sitting, Turn};
use bedplate::domain::outcome::Outcome;
use bedplate::domain::settings::Settings;
use bedplate::store::bring::{Merged, ProfileFile, Whose, look};
use bedplate::store::{FaultReport, KeptSitting, ListedAttempt, OpenOptions, Opened, Store, StoreError, ids};

use crate::store::basics::{NOW, attempt, known};

/// A computer. Its clock is wrong by so many days, and each thing that is done takes a second.
pub struct Computer {
    pub folder: tempfile::TempDir,
    pub opened: Opened,
    pub clock: i64,
    pub ship: ShipOffset,
}

/// All that a profile tells of a learner.
#[derive(Debug, PartialEq)]
pub struct State {
    pub attempts: Vec<ListedAttempt>,
    pub sittings: Vec<KeptSitting>,
    pub set_aside: Vec<SetAside>,
    pub faults: Vec<FaultReport>,
    pub settings: Settings,
}

impl Computer {
    pub fn new(days_wrong: i64, ship: i32) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let clock = NOW.0 + days_wrong * 86_400_000;
        let options = OpenOptions { dir: folder.path().join("profile"), now: Instant(clock), wake: Arc::new(|| {}) };
        let opened = Store::open(options).unwrap_or_else(|e| panic!("{e}"));
        Self { folder, opened, clock, ship: ShipOffset::from_minutes(ship).unwrap() }
    }

    pub fn store(&self) -> &Store {
        &self.opened.store
    }

    pub fn tick(&mut self) -> Instant {
        self.clock += 1_000;
        Instant(self.clock)
    }

    pub fn answer(&mut self, card: &str, outcome: Outcome) -> Attempt {
        let at = self.tick();
        let device = self.opened.device.clone();
        let a = Attempt { id: ids::new_attempt_id(at), at, ship: self.ship, outcome, device, ..attempt(card, 0) };
        self.store().record(a.clone(), known(&a, 1)).wait().unwrap();
        a
    }

    /// Takes the answer back that was given last on this computer or any other.
    pub fn take_back(&mut self, nth: usize) {
        let at = self.tick();
        let all = self.store().attempts(None, usize::MAX).wait().unwrap();
        if !all.is_empty() {
            let id = all[nth % all.len()].id.clone();
            self.store().void_attempts(vec![id], at, |_| None::<CardMemory>).wait().unwrap();
        }
    }

    pub fn set_aside(&mut self, card: &str, until: Until) {
        let at = self.tick();
        self.store().set_aside(SetAside { card: CardKey::new("marram-light", card), at, until }).wait().unwrap();
    }

    pub fn report(&mut self, note: &str) {
        let at = self.tick();
        let fault = FaultReport { card: CardKey::new("marram-light", "drain"), at, note: note.to_owned() };
        self.store().report_fault(fault).wait().unwrap();
    }

    /// What is kept as the settings now.
    pub fn settings(&self) -> Settings {
        self.state().settings
    }

    pub fn change(&mut self, change: impl FnOnce(&mut Settings)) {
        let at = self.tick();
        let mut settings = self.settings();
        change(&mut settings);
        self.store().save_settings(&settings, at).wait().unwrap();
    }

    pub fn begin_sitting(&mut self) -> String {
        let at = self.tick();
        let setup = Setup {
            blueprint: Blueprint::standard(Certificate::Watch),
            draw: Draw::Mock,
            manner: Manner::Steady,
            seed: 7,
            recent: Vec::new(),
        };
        let kept = KeptSitting {
            id: ids::new_attempt_id(at).0,
            at,
            ship: self.ship,
            device: self.opened.device.clone(),
            sitting: Sitting::begin(setup),
            ended: None,
            early: false,
        };
        self.store().begin_sitting(kept.clone()).wait().unwrap();
        kept.id
    }

    /// Answers the next question of a sitting, with words that no other computer says.
    pub fn answer_turn(&mut self, sitting: &str) {
        let at = self.tick();
        let kept = self.sitting(sitting);
        let n = kept.sitting.turns.len();
        let turn = turn(n, &format!("{} at {}", self.opened.device, at.0));
        self.store().keep_turn(sitting.to_owned(), n, turn, None).wait().unwrap();
    }

    pub fn sitting(&self, id: &str) -> KeptSitting {
        let all = self.store().sittings().wait().unwrap();
        all.into_iter().find(|kept| kept.id == id).expect("the sitting is there")
    }

    /// The profile as a file.
    pub fn write(&self) -> ProfileFile {
        let to = self.file(&format!("{}.profile", ids::new_attempt_id(Instant(self.clock)).0));
        self.store().write_profile(to, Instant(self.clock)).wait().unwrap_or_else(|e| panic!("{e}"))
    }

    pub fn file(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Brings in what another computer wrote; first it is told what would come, and that then comes.
    pub fn bring(&self, file: &ProfileFile) -> Merged {
        let before = self.state();
        let would = self.store().would_bring(file.clone(), Instant(self.clock)).wait().unwrap();
        assert_eq!(self.state(), before, "only told");
        let mixing = would.whose == Whose::Other;
        let merged = self.store().bring(file.clone(), mixing, Instant(self.clock)).wait().unwrap();
        assert_eq!(merged, would, "as told");
        merged
    }

    /// Why a file is refused, by the look or by the profile; nothing is changed.
    pub fn refused(&self, file: &std::path::Path) -> String {
        let before = self.state();
        let told = look(file).and_then(|told| self.store().bring(told, true, Instant(self.clock)).wait());
        assert_eq!(self.state(), before, "nothing of it is kept");
        match told {
            Err(StoreError::FileRefused { file: named, why }) if named == file => why,
            other => panic!("{} was to be refused by name: {other:?}", file.display()),
        }
    }

    pub fn state(&self) -> State {
        let again = Store::open_or_read(OpenOptions {
            dir: self.folder.path().join("profile"),
            now: Instant(self.clock),
            wake: Arc::new(|| {}),
        });
        let again = again.unwrap_or_else(|e| panic!("{e}"));
        State {
            attempts: again.store.list_attempts(None, usize::MAX).wait().unwrap(),
            sittings: again.store.sittings().wait().unwrap(),
            set_aside: again.set_aside,
            faults: again.faults,
            settings: again.settings,
        }
    }
}

fn turn(n: usize, note: &str) -> Turn {
    let question = Question {
        id: format!("marram-light/card-{n}"),
        card: CardKey::new("marram-light", &format!("card-{n}")),
        competence: "A-III/1.1.4".to_owned(),
        depth: 0,
        asked: Asked::Lead,
        about: None,
        lead_in: String::new(),
        ask: "What do you do?".to_owned(),
        points: Vec::new(),
        sources: Vec::new(),
        limit_seconds: 120.0,
    };
    let answer = Answered {
        given: None,
        marks: Vec::new(),
        outcome: Outcome::Answered,
        ran_dry: false,
        seconds: 31.5,
        by: MarkedBy::Second,
        note: note.to_owned(),
        recording: Some("1800000000000-a-0.wav".to_owned()),
    };
    Turn { question, answer: Some(answer) }
}
