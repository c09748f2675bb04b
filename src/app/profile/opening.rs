//! Opening a profile: decks are read, the store is opened, and what it holds becomes the learner.

use std::collections::HashMap;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::app::class::assignments;
use crate::app::profile::editions::{self, Editions, News};
use crate::app::profile::learner::{DoneToday, Learner, Today};
use crate::app::profile::shelf::Shelf;
use crate::app::program::setup::Setup;
use crate::domain::day::{Instant, MS_PER_DAY};
use crate::domain::english;
use crate::domain::ids::CardKey;
use crate::domain::memory::CardMemory;
use crate::domain::memory::model::Model;
use crate::domain::memory::replay::{Memories, replay};
use crate::store::{Notice, OpenError, OpenOptions, Opened, Store, StoreError, Ticket};

/// What opening gives.
pub struct Ready {
    /// The decks.
    pub shelf: Shelf,
    /// The open profile.
    pub profile: Profile,
    /// The search index being brought up to date.
    pub indexing: Ticket<usize>,
    /// What the learner should hear.
    pub notices: Vec<String>,
    /// Editions that have come in after others and were not looked at yet.
    pub news: Vec<News>,
}

/// An open profile.
pub struct Profile {
    /// The profile's folder.
    pub dir: PathBuf,
    /// The store.
    pub store: Store,
    /// This computer's name in attempts.
    pub device: String,
    /// The learner.
    pub learner: Learner,
}

/// Why the program did not open.
#[derive(Debug, thiserror::Error)]
pub enum Failure {
    /// The profile.
    #[error(transparent)]
    Open(#[from] OpenError),
    /// Reading it after it was opened.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// The home folder.
    #[error(
        "the folder {home} cannot be written ({why}). Allow writing there, or name a folder that you may write by --home or BEDPLATE_HOME"
    )]
    Home {
        /// The home folder.
        home: PathBuf,
        /// The system's words.
        why: String,
    },
    /// The disk of the home folder.
    #[error("the disk that holds {home} is full. Free some space, then try again")]
    Full {
        /// The home folder.
        home: PathBuf,
    },
}

impl Failure {
    /// From the system's answer about the home folder.
    fn of_home(home: &Path, error: &std::io::Error) -> Self {
        let home = home.to_owned();
        match error.kind() {
            ErrorKind::StorageFull | ErrorKind::QuotaExceeded => Self::Full { home },
            _ => Self::Home { home, why: error.to_string() },
        }
    }
}

/// Looks for the profile's place: again on *Try again*, where it could not be found.
pub type Find = Arc<dyn Fn() -> Result<Setup, Failure>>;

/// How a profile is opened: to work with it, or to look at it.
pub type Opening = fn(OpenOptions) -> Result<Opened, OpenError>;

/// Opens the home's decks and the setup's profile, on this thread.
///
/// # Errors
/// Where the home cannot be written or the profile cannot be opened; nothing is changed then.
pub fn open(setup: &Setup, now: Instant) -> Result<Ready, Failure> {
    open_with(setup, now, read(setup, Shelf::read)?, Store::open)
}

/// Opens it to look at it; where another program has it open, it is read only and nothing can be kept.
///
/// # Errors
/// Those of [`open`].
pub fn open_or_read(setup: &Setup, now: Instant) -> Result<Ready, Failure> {
    open_with(setup, now, read(setup, Shelf::read)?, Store::open_or_read)
}

/// Opens it in good time: drawings that take long are left for [`Shelf::rest`]. None where it is not wanted any more
/// once the decks are read; the profile is then left alone.
///
/// # Errors
/// Those of [`open`].
pub fn open_in_time(
    setup: &Setup,
    now: Instant,
    opening: Opening,
    is_wanted: impl FnOnce() -> bool,
) -> Option<Result<Ready, Failure>> {
    let shelf = read(setup, Shelf::read_in_time);
    is_wanted().then(|| open_with(setup, now, shelf?, opening))
}

fn read(setup: &Setup, read: fn(&Path) -> std::io::Result<Shelf>) -> Result<Shelf, Failure> {
    read(&setup.home).map_err(|e| Failure::of_home(&setup.home, &e))
}

fn open_with(setup: &Setup, now: Instant, shelf: Shelf, opening: Opening) -> Result<Ready, Failure> {
    let opened = opening(OpenOptions { dir: setup.dir.clone(), now, wake: setup.wake.clone() })?;
    let notices = opened.notices.iter().filter(|n| worth_saying(n)).map(ToString::to_string);
    let notices: Vec<String> = notices.chain(shelf.notes.iter().cloned()).chain(shelf.trouble.clone()).collect();
    let (profile, come) = profile(setup, opened, &shelf, now)?;
    let indexing = crate::app::search::index(&profile.store, &shelf);
    let news = profile.learner.editions.unseen(&profile.store, &shelf)?;
    let not_kept = come.not_kept.map(|error| english::sentence(&error.to_string()));
    Ok(Ready { shelf, profile, indexing, notices: notices.into_iter().chain(not_kept).collect(), news })
}

/// Whether a notice of the store is news for the learner: a backup made in peace is nothing to interrupt a watch for.
pub fn worth_saying(notice: &Notice) -> bool {
    !matches!(notice, Notice::BackupMade { .. } | Notice::Created)
}

fn profile(
    setup: &Setup,
    opened: Opened,
    shelf: &Shelf,
    now: Instant,
) -> Result<(Profile, editions::TakenIn), StoreError> {
    let Opened { store, mut settings, device, memory, stamp, set_aside, faults, .. } = opened;
    if !settings.first_run_done {
        // A name may stay empty: reports then say that none was given.
        if settings.learner.is_empty() {
            settings.learner = setup.learner.clone().unwrap_or_default();
        }
        settings.ship = setup.ship;
        if !store.reads_only() {
            store.save_settings(&settings, now).wait()?;
        }
    }
    let own = settings.memory.as_deref().and_then(|own| Model::with_parameters(own, settings.recall_target).ok());
    let model = own.unwrap_or_else(|| Model::standard(settings.recall_target));
    let mut editions = Editions::of(store.ledger().wait()?);
    let come = editions.take_in(&store, shelf, now)?;
    let memory = match stamp.as_deref() == Some(&editions.stamp(&model)) {
        true => memory.into_iter().collect(),
        false if store.reads_only() => store.fold_attempts(Memories::new(), replay(&model)).wait()?,
        false => rebuild(&store, &model, &editions)?,
    };
    editions.find_changed(&store, shelf, &memory)?;
    let mut learner = Learner {
        memory,
        aside: HashMap::new(),
        faults,
        model,
        sittings: store.sittings().wait()?,
        // Where they cannot be read there are none; taking one in says so.
        assignments: assignments::list(&setup.home).unwrap_or_default(),
        today: Today::default(),
        taken_back: 0,
        settings,
        editions,
    };
    learner.inherit(set_aside);
    learner.today = today(&store, &learner, now)?;
    Ok((Profile { dir: setup.dir.clone(), store, device, learner }, come))
}

impl Profile {
    /// Takes in the editions of decks that have been read again.
    ///
    /// # Errors
    /// Where the store cannot be read or written.
    pub fn take_in(&mut self, shelf: &Shelf, now: Instant) -> Result<editions::TakenIn, StoreError> {
        let Self { store, learner, .. } = self;
        let come = learner.editions.take_in(store, shelf, now)?;
        if come.regrouped {
            learner.memory = match store.reads_only() {
                true => store.fold_attempts(Memories::new(), replay(&learner.model)).wait()?,
                false => rebuild(store, &learner.model, &learner.editions)?,
            };
            let set_aside = learner.aside.values().cloned().collect();
            learner.inherit(set_aside);
            learner.today = today(store, learner, now)?;
        }
        learner.editions.find_changed(store, shelf, &learner.memory)?;
        Ok(come)
    }
}

/// What was done on the study day of `now`.
fn today(store: &Store, learner: &Learner, now: Instant) -> Result<Today, StoreError> {
    let day = learner.day(now);
    // A day's attempts lie within the two calendar days around it, whatever ship's time was.
    let from = Instant(now.0.saturating_sub(2 * MS_PER_DAY));
    let attempts = store.attempts_between(from, Instant(i64::MAX)).wait()?;
    let of_today = attempts.into_iter().filter(|a| a.day() == day);
    Ok(Today { day: Some(day), attempts: of_today.map(|attempt| DoneToday::of(&attempt)).collect() })
}

/// Works every card's memory out anew from the attempts and keeps it as the cache.
///
/// # Errors
/// Where the store cannot be read or written.
pub fn rebuild(store: &Store, model: &Model, editions: &Editions) -> Result<Memories, StoreError> {
    let memory = store.fold_attempts(Memories::new(), replay(model)).wait()?;
    let mut rows: Vec<(CardKey, CardMemory)> = memory.iter().map(|(k, m)| (k.clone(), *m)).collect();
    rows.sort_by(|a, b| a.0.cmp(&b.0));
    store.replace_memory(editions.stamp(model), rows).wait()?;
    Ok(memory)
}
