//! Decks that were taken in: a folder for each, with the edition in use and the one before it.
//!
//! Which edition is in use is said by one small file, `state.json`. An edition is written in full beside the others and
//! brought onto the disk; then that file is put in its place in one step. Whatever happens before that step leaves all as
//! it was, and nothing that happens after it can undo it. What no state speaks of is swept away at the next taking in.

use std::fs::{self, File, TryLockError};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::error::StoreError;
use super::{files, rights};
use crate::domain::ids::is_id;

const FOLDER: &str = "taken-in";
const STATE: &str = "state.json";
const LOCK: &str = ".lock";
/// The beginning of the name of an edition that is being written.
const DRAFT: &str = "draft-";

/// What is known of a deck that was taken in.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TakenIn {
    /// The one public key that the deck is taken in by; none where no edition was signed.
    pub key: Option<String>,
    /// The edition in use; none where one is that was not taken in.
    pub in_use: Option<Edition>,
    /// What was in use before, where that can be brought back.
    pub before: Option<Before>,
}

/// An edition in its folder.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Edition {
    /// The name of its folder.
    pub folder: String,
    /// Publication number.
    pub edition: u32,
    /// The digest of its files.
    pub contents: String,
    /// It was taken in though the same deck, up to this edition, lies elsewhere: it goes before that.
    pub over: u32,
}

/// What was in use before an edition.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Before {
    /// A deck that was not taken in: one of the program, or a folder of the learner's.
    Elsewhere {
        /// Its edition.
        edition: u32,
    },
    /// An edition that was taken in.
    TakenIn(Edition),
}

impl Before {
    /// Its publication number.
    pub fn edition(&self) -> u32 {
        match self {
            Before::Elsewhere { edition } => *edition,
            Before::TakenIn(before) => before.edition,
        }
    }
}

/// How far the taking in of an edition is: what a power cut may fall behind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// The folder of the edition was made.
    Begun,
    /// One more file is on the disk.
    Written,
    /// All files and folders are on the disk.
    Synced,
    /// The edition has its name.
    Named,
    /// The edition is in use.
    InUse,
    /// What is no longer spoken of was swept away.
    Swept,
}

/// A file of an edition: its path below the edition's folder, with `/` between the parts, and what it holds.
pub type FileToKeep<'a> = (&'a str, &'a [u8]);

fn base(home: &Path) -> PathBuf {
    home.join(FOLDER)
}

/// Where an edition's files lie.
pub fn folder(home: &Path, deck: &str, edition: &Edition) -> PathBuf {
    base(home).join(deck).join(&edition.folder)
}

/// Every deck that was taken in, in the order of their ids, with what is known of it or why that cannot be read.
pub fn list(home: &Path) -> Vec<(String, Result<TakenIn, StoreError>)> {
    let entries = fs::read_dir(base(home)).into_iter().flatten().flatten();
    let mut ids: Vec<String> = entries
        .filter(|entry| entry.file_type().is_ok_and(|sort| sort.is_dir()))
        .filter_map(|entry| entry.file_name().into_string().ok())
        .filter(|name| is_id(name))
        .collect();
    ids.sort();
    ids.into_iter().map(|id| (id.clone(), state(home, &id))).collect()
}

/// What is known of a deck; nothing where it was never taken in.
///
/// # Errors
/// Where it cannot be read.
pub fn state(home: &Path, deck: &str) -> Result<TakenIn, StoreError> {
    let path = base(home).join(deck).join(STATE);
    match fs::read_to_string(&path) {
        Ok(text) => serde_json::from_str(&text).map_err(|error| StoreError::Unreadable {
            what: format!("what is known of the deck {deck}"),
            place: path,
            why: error.to_string(),
        }),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(TakenIn::default()),
        Err(error) => Err(StoreError::from_io("read what was taken in", &path, &error)),
    }
}

/// The right to change what was taken in, which one program at a time has.
pub struct Turn {
    home: PathBuf,
    lock: File,
}

impl Turn {
    /// Takes it.
    ///
    /// # Errors
    /// `Busy` where another program has it; others where the home cannot be written.
    pub fn take(home: &Path) -> Result<Self, StoreError> {
        let (doing, path) = ("take a deck in", base(home).join(LOCK));
        rights::create_dir(&base(home)).map_err(|e| StoreError::from_io(doing, &base(home), &e))?;
        let lock = rights::open_or_create(&path).map_err(|e| StoreError::from_io(doing, &path, &e))?;
        match lock.try_lock() {
            Ok(()) => Ok(Self { home: home.to_owned(), lock }),
            Err(TryLockError::WouldBlock) => Err(StoreError::Busy { doing: doing.to_owned(), place: path }),
            Err(TryLockError::Error(e)) => Err(StoreError::from_io(doing, &path, &e)),
        }
    }

    /// Puts an edition in use, all of it or nothing: `next` makes the state out of the name of its folder, and that state
    /// holds from the step [`Step::InUse`] on.
    ///
    /// # Errors
    /// Where the disk does not take it; all is then as it was.
    pub fn put(
        &self,
        deck: &str,
        name: &str,
        kept: &[FileToKeep<'_>],
        next: impl FnOnce(String) -> TakenIn,
        step: &mut dyn FnMut(Step),
    ) -> Result<TakenIn, StoreError> {
        let of_deck = base(&self.home).join(deck);
        let is_new = !of_deck.exists();
        let draft = of_deck.join(format!("{DRAFT}{name}"));
        let written = write(&of_deck, &draft, kept, step).and_then(|()| {
            let folder = free_name(&of_deck, name);
            fs::rename(&draft, of_deck.join(&folder))?;
            files::sync_dir(&of_deck)?;
            if is_new {
                files::sync_dir(&base(&self.home))?;
                files::sync_dir(&self.home)?;
            }
            step(Step::Named);
            Ok(folder)
        });
        let folder = written.inspect_err(|_| self.forget(deck, &of_deck, &draft, is_new));
        let folder = folder.map_err(|e| StoreError::from_io("take the deck in", &of_deck, &e))?;
        let next = next(folder);
        let kept = self.set(deck, &next);
        if kept.is_err() {
            self.sweep(deck);
        } else {
            step(Step::InUse);
            self.sweep(deck);
            step(Step::Swept);
        }
        kept.map(|()| next)
    }

    /// Puts another state in its place, in one step.
    ///
    /// # Errors
    /// Where the disk does not take it; the state is then as it was.
    pub fn set(&self, deck: &str, next: &TakenIn) -> Result<(), StoreError> {
        let of_deck = base(&self.home).join(deck);
        let path = of_deck.join(STATE);
        let write = || {
            rights::create_dir(&of_deck)?;
            let text = serde_json::to_string_pretty(next).map_err(io::Error::other)?;
            files::write_whole(&path, &(text + "\n"))
        };
        write().map_err(|e| StoreError::from_io("take the deck in", &path, &e))
    }

    /// What could not be written leaves nothing behind, as far as the disk allows.
    fn forget(&self, deck: &str, of_deck: &Path, draft: &Path, is_new: bool) {
        let _ = fs::remove_dir_all(draft);
        if is_new {
            let _ = fs::remove_dir(of_deck);
        } else {
            self.sweep(deck);
        }
    }

    /// Removes editions that no state speaks of, whole or not. What cannot be removed only takes room.
    fn sweep(&self, deck: &str) {
        let Ok(state) = state(&self.home, deck) else { return };
        let before = match &state.before {
            Some(Before::TakenIn(before)) => Some(before),
            _ => None,
        };
        let wanted = |name: &str| state.in_use.iter().chain(before).any(|edition| edition.folder == name);
        for entry in fs::read_dir(base(&self.home).join(deck)).into_iter().flatten().flatten() {
            let is_folder = entry.file_type().is_ok_and(|sort| sort.is_dir());
            if is_folder && !wanted(&entry.file_name().to_string_lossy()) {
                let _ = fs::remove_dir_all(entry.path());
            }
        }
    }
}

impl Drop for Turn {
    /// Gives it back by name, as the lock of a profile does.
    fn drop(&mut self) {
        let _ = self.lock.unlock();
    }
}

fn write(of_deck: &Path, draft: &Path, kept: &[FileToKeep<'_>], step: &mut dyn FnMut(Step)) -> io::Result<()> {
    rights::create_dir(of_deck)?;
    match fs::remove_dir_all(draft) {
        Err(error) if error.kind() != ErrorKind::NotFound => return Err(error),
        _ => fs::create_dir(draft)?,
    }
    step(Step::Begun);
    let mut folders = vec![draft.to_owned()];
    for (path, bytes) in kept {
        let path = path.split('/').fold(draft.to_owned(), |at, part| at.join(part));
        let parent = path.parent().unwrap_or(draft);
        if !folders.iter().any(|folder| folder == parent) {
            fs::create_dir_all(parent)?;
            let above = parent.ancestors().take_while(|above| *above != draft);
            folders.extend(above.map(Path::to_owned));
        }
        let mut file = File::create_new(&path)?;
        file.write_all(bytes)?;
        file.sync_all()?;
        step(Step::Written);
    }
    folders.iter().try_for_each(|folder| files::sync_dir(folder))?;
    step(Step::Synced);
    Ok(())
}

/// A name that no edition of the deck has.
fn free_name(of_deck: &Path, name: &str) -> String {
    let mut names = (1u32..).map(|n| if n == 1 { name.to_owned() } else { format!("{name}-{n}") });
    names.find(|name| fs::symlink_metadata(of_deck.join(name)).is_err()).unwrap_or_else(|| name.to_owned())
}
