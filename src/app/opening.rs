//! Opening the program off the frame: decks are read and the profile's store is opened on a thread of its own.

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, channel};
use std::thread;

use crate::app::learner::{Learner, Today};
use crate::app::shelf::Shelf;
use crate::domain::attempt::Attempt;
use crate::domain::day::Instant;
use crate::domain::ids::CardKey;
use crate::domain::memory::CardMemory;
use crate::domain::memory::model::Model;
use crate::store::{OpenError, OpenOptions, Opened, Store, StoreError, Wake};

/// What opening gives.
pub struct Ready {
    /// The decks.
    pub shelf: Shelf,
    /// The open profile.
    pub profile: Profile,
    /// What the learner should hear.
    pub notices: Vec<String>,
}

/// An open profile.
pub struct Profile {
    /// Its folder.
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
        "the folder {home} cannot be written ({why}). Allow writing there, or set BEDPLATE_HOME to a folder that you may write"
    )]
    Home {
        /// The home folder.
        home: PathBuf,
        /// The system's words.
        why: String,
    },
}

/// Opens the home's decks and the profile in `dir`, on this thread.
///
/// # Errors
/// Where the home cannot be written or the profile cannot be opened; nothing is changed then.
pub fn open(home: &Path, dir: &Path, learner_name: Option<&str>, now: Instant, wake: &Wake) -> Result<Ready, Failure> {
    let shelf = Shelf::read(home).map_err(|e| Failure::Home { home: home.to_owned(), why: e.to_string() })?;
    let opened = Store::open(OpenOptions { dir: dir.to_owned(), now, wake: wake.clone() })?;
    let notices = opened.notices.iter().map(ToString::to_string).collect();
    let profile = profile(dir, opened, learner_name, now)?;
    crate::app::search::index(&profile.store, &shelf);
    Ok(Ready { shelf, profile, notices })
}

/// The same on a thread of its own; the receiver gets one answer, and `wake` is called when it is there.
pub fn open_in_background(
    home: PathBuf,
    dir: PathBuf,
    learner_name: Option<String>,
    now: Instant,
    wake: Wake,
) -> Receiver<Result<Ready, Failure>> {
    let (sender, receiver) = channel();
    thread::spawn(move || {
        let answer = open(&home, &dir, learner_name.as_deref(), now, &wake);
        // Nobody listening any more means that the window is closing.
        let _ = sender.send(answer);
        wake();
    });
    receiver
}

fn profile(dir: &Path, opened: Opened, learner_name: Option<&str>, now: Instant) -> Result<Profile, StoreError> {
    let Opened { store, mut settings, device, memory, stamp, set_aside, faults, .. } = opened;
    if settings.learner.is_empty() {
        settings.learner = learner_name.unwrap_or("Engineer").to_owned();
        store.save_settings(&settings).wait()?;
    }
    let model = Model::standard(settings.recall_target);
    let memory =
        if stamp.as_deref() == Some(&model.stamp()) { memory.into_iter().collect() } else { rebuild(&store, &model)? };
    let mut learner = Learner {
        memory,
        aside: set_aside.into_iter().map(|event| (event.card.clone(), event)).collect(),
        faults,
        model,
        today: Today::default(),
        settings,
    };
    let day = learner.day(now);
    // A day's attempts lie within the two calendar days around it, whatever ship's time was.
    let from = Instant(now.0 - 2 * 86_400_000);
    let attempts = store.attempts_between(from, Instant(i64::MAX)).wait()?;
    let attempts =
        attempts.into_iter().filter(|a| a.day() == day).map(|a| (a.card.clone(), a.final_outcome(), a.seconds));
    learner.today = Today { day: Some(day), attempts: attempts.collect() };
    Ok(Profile { dir: dir.to_owned(), store, device, learner })
}

/// Works every card's memory out anew from the attempts and keeps it as the cache.
///
/// # Errors
/// Where the store cannot be read or written.
pub fn rebuild(store: &Store, model: &Model) -> Result<HashMap<CardKey, CardMemory>, StoreError> {
    let stepping = model.clone();
    let memory = store
        .fold_attempts(HashMap::new(), move |memory: &mut HashMap<CardKey, CardMemory>, attempt: Attempt| {
            let next = stepping.after(memory.get(&attempt.card), &attempt);
            memory.insert(attempt.card, next);
        })
        .wait()?;
    let mut rows: Vec<(CardKey, CardMemory)> = memory.iter().map(|(k, m)| (k.clone(), *m)).collect();
    rows.sort_by(|a, b| a.0.cmp(&b.0));
    store.replace_memory(model.stamp(), rows).wait()?;
    Ok(memory)
}
