//! The decks at hand: those that come with the program and those in the home folder.

use std::collections::{BTreeMap, HashMap};
use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use crate::app::profile::bundled::{self, LaidOut};
use crate::deck::{self, Reading};
use crate::domain::card::Card;
use crate::domain::deck::Deck;
use crate::domain::drawing::Pointing;
use crate::domain::english;
use crate::domain::ids::{CardKey, DeckId};
use crate::present::words;
use crate::store::taken_in::{self, Before};

/// The folder under the home folder that a learner's own decks are put in.
pub const OWN_DECKS: &str = "decks";

/// The deck's own folder in an edition that was taken in.
pub const DECK: &str = "deck";

/// Before the first page is shown, the drawings of all the learner's own decks may take so long.
pub const FOR_DRAWINGS: Duration = Duration::from_secs(2);

/// All decks at hand.
#[derive(Debug, Default)]
pub struct Shelf {
    /// In order of title.
    pub decks: Vec<Shelved>,
    /// What the learner should hear of how they were found.
    pub notes: Vec<String>,
    /// The folder that the learner's own decks are put in; empty for a shelf that was not read from a home folder.
    pub own_folder: PathBuf,
    /// Why the learner's own decks could not be looked for, in sentences.
    pub trouble: Option<String>,
    /// The edition before, of the decks that have one to go back to.
    pub before: BTreeMap<DeckId, u32>,
    by_key: HashMap<CardKey, (usize, usize)>,
}

/// Where a deck on the shelf comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// It came with the program.
    Bundled,
    /// It is a folder that the learner has put into the home.
    Own,
    /// It was taken in from a file.
    TakenIn {
        /// It goes before the same deck from elsewhere, up to this edition, because the person has said so.
        over: u32,
    },
}

impl Origin {
    /// Of several of one deck, the one with the highest rank is used.
    pub fn rank(self, edition: u32) -> (u32, u8) {
        match self {
            Origin::Bundled => (edition, 0),
            Origin::Own => (edition, 1),
            Origin::TakenIn { over } => (edition.max(over), 2),
        }
    }
}

/// How a deck was taken in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TakenIn {
    /// See [`Origin::TakenIn`].
    pub over: u32,
    /// Whether it is bound to a key.
    pub is_signed: bool,
}

/// One deck on the shelf.
#[derive(Debug)]
pub struct Shelved {
    /// Where it was read from.
    pub folder: PathBuf,
    /// Whether the deck came with the program.
    pub bundled: bool,
    /// Where the deck was taken in from a file: how.
    pub taken_in: Option<TakenIn>,
    /// What reading it gave.
    pub reading: Arc<Reading>,
    /// Another deck of the same id stands before it, so that this one is not used.
    pub shadowed: bool,
}

impl Shelved {
    /// Where it comes from.
    pub fn origin(&self) -> Origin {
        match self.taken_in {
            Some(taken_in) => Origin::TakenIn { over: taken_in.over },
            None if self.bundled => Origin::Bundled,
            None => Origin::Own,
        }
    }

    /// The deck, where it can be used.
    pub fn deck(&self) -> Option<&Deck> {
        if self.shadowed { None } else { self.reading.deck.as_ref() }
    }

    /// The deck's id, or its folder's name where it could not be read.
    pub fn id(&self) -> DeckId {
        match &self.reading.deck {
            Some(deck) => deck.id.clone(),
            None => DeckId(self.folder.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned())),
        }
    }
}

impl Shelf {
    /// Reads every deck: the learner's own from `<home>/decks`, those that were taken in, then those that come with the
    /// program. Where two have the same id the one of the higher [`Origin::rank`] is used. The drawings of the
    /// learner's own are all read, however long that takes (each deck has a minute).
    ///
    /// # Errors
    /// Where the home folder cannot be read or written (the program's decks are laid out there).
    pub fn read(home: &Path) -> std::io::Result<Self> {
        Self::read_by(home, deck::read_deck_to_ask)
    }

    /// Reads every deck in good time: what drawings of all the learner's own decks cannot be read in [`FOR_DRAWINGS`] are
    /// left for [`Shelf::rest`].
    ///
    /// # Errors
    /// Those of [`Shelf::read`].
    pub fn read_in_time(home: &Path) -> std::io::Result<Self> {
        let mut time = FOR_DRAWINGS;
        Self::read_by(home, |folder| deck::read_deck_within(folder, &mut time))
    }

    fn read_by(home: &Path, mut read: impl FnMut(&Path) -> Reading) -> std::io::Result<Self> {
        let own_folder = home.join(OWN_DECKS);
        let mut decks = Vec::new();
        for folder in bundled::deck_folders(&own_folder) {
            let reading = Arc::new(read(&folder));
            decks.push(Shelved { folder, bundled: false, taken_in: None, reading, shadowed: false });
        }
        let mut trouble = unreadable(&own_folder);
        let mut before = BTreeMap::new();
        for (id, state) in taken_in::list(home) {
            let state = match state {
                Ok(state) => state,
                Err(error) => {
                    trouble.get_or_insert_with(|| english::sentence(&error.to_string()));
                    continue;
                }
            };
            before.extend(state.before.as_ref().map(Before::edition).map(|edition| (DeckId(id.clone()), edition)));
            if let Some(kept) = &state.in_use {
                let folder = taken_in::folder(home, &id, kept).join(DECK);
                let reading = Arc::new(read(&folder));
                let taken_in = Some(TakenIn { over: kept.over, is_signed: state.key.is_some() });
                decks.push(Shelved { folder, bundled: false, taken_in, reading, shadowed: false });
            }
        }
        let laid_out = bundled::lay_out(home)?;
        let notes = notes(&laid_out);
        for folder in laid_out.folders {
            let reading = read_bundled(&folder);
            decks.push(Shelved { folder, bundled: true, taken_in: None, reading, shadowed: false });
        }
        Ok(Self { notes, own_folder, trouble, before, ..Self::of(decks) })
    }

    /// Folders of decks with drawings that are not read yet.
    pub fn rest(&self) -> Vec<PathBuf> {
        self.decks.iter().filter(|d| d.reading.put_off > 0).map(|d| d.folder.clone()).collect()
    }

    /// Puts a deck that has now been read whole, or anew, in its place.
    pub fn complete(&mut self, folder: &Path, reading: Reading) {
        let mut decks = std::mem::take(&mut self.decks);
        let reading = Arc::new(reading);
        if let Some(shelved) = decks.iter_mut().find(|shelved| shelved.folder == folder) {
            shelved.reading = reading;
        } else if folder.parent() == Some(&self.own_folder) && reading.readable {
            // A deck that was begun since.
            decks.push(Shelved { folder: folder.to_owned(), bundled: false, taken_in: None, reading, shadowed: false });
        }
        let Self { notes, own_folder, trouble, before, .. } = std::mem::take(self);
        *self = Self { notes, own_folder, trouble, before, ..Self::of(decks) };
    }

    /// How many errors stand in decks that are used or cannot be read: cards that cannot be asked.
    pub fn errors(&self) -> usize {
        let problems = self.decks.iter().filter(|deck| !deck.shadowed).flat_map(|deck| &deck.reading.problems);
        problems.filter(|problem| problem.severity == deck::Severity::Error).count()
    }

    /// A shelf of decks that have been read.
    pub fn of(mut decks: Vec<Shelved>) -> Self {
        let title = |d: &Shelved| d.reading.deck.as_ref().map_or_else(|| d.id().0, |deck| deck.title.clone());
        decks.sort_by(|a, b| title(a).cmp(&title(b)).then_with(|| a.bundled.cmp(&b.bundled)));
        let mut best: HashMap<DeckId, usize> = HashMap::new();
        for (n, shelved) in decks.iter().enumerate() {
            let Some(deck) = &shelved.reading.deck else { continue };
            let rank = |at: usize| decks[at].reading.deck.as_ref().map(|d| decks[at].origin().rank(d.edition));
            match best.get(&deck.id) {
                Some(other) if rank(*other) >= rank(n) => {}
                _ => {
                    best.insert(deck.id.clone(), n);
                }
            }
        }
        for (n, shelved) in decks.iter_mut().enumerate() {
            shelved.shadowed = shelved.reading.deck.as_ref().is_some_and(|d| best.get(&d.id) != Some(&n));
        }
        let mut by_key = HashMap::new();
        for (d, shelved) in decks.iter().enumerate() {
            for (c, card) in shelved.deck().into_iter().flat_map(|deck| deck.cards.iter().enumerate()) {
                by_key.insert(card.key.clone(), (d, c));
            }
        }
        Self { decks, by_key, ..Self::default() }
    }

    /// A card with its deck.
    pub fn card(&self, key: &CardKey) -> Option<(&Deck, &Card)> {
        let (d, c) = self.by_key.get(key)?;
        let deck = self.decks.get(*d)?.deck()?;
        Some((deck, deck.cards.get(*c)?))
    }

    /// The card's picture: its deck's folder, and the path in it.
    pub fn picture(&self, key: &CardKey) -> Option<(&Path, &str)> {
        let (d, c) = self.by_key.get(key)?;
        let shelved = self.decks.get(*d)?;
        Some((&shelved.folder, shelved.deck()?.cards.get(*c)?.picture.as_deref()?))
    }

    /// What a point card points at: its deck's folder, and the drawing with its part.
    pub fn pointing(&self, key: &CardKey) -> Option<(&Path, &Pointing)> {
        let (d, c) = self.by_key.get(key)?;
        let shelved = self.decks.get(*d)?;
        Some((&shelved.folder, shelved.deck()?.cards.get(*c)?.body.as_kind().pointing()?))
    }

    /// The card's place in its deck, from 1, and how many cards that has.
    pub fn number(&self, key: &CardKey) -> Option<(usize, usize)> {
        let (d, c) = self.by_key.get(key)?;
        Some((c + 1, self.decks.get(*d)?.deck()?.cards.len()))
    }

    /// Every deck that can be used.
    pub fn usable(&self) -> impl Iterator<Item = &Deck> {
        self.decks.iter().filter_map(Shelved::deck)
    }

    /// Every card that can be asked, in order of deck and card.
    pub fn cards(&self) -> impl Iterator<Item = (&Deck, &Card)> {
        self.usable().flat_map(|deck| deck.cards.iter().map(move |card| (deck, card)))
    }

    /// The deck of this id, or the one whose folder has this name.
    pub fn deck(&self, id: &DeckId) -> Option<&Shelved> {
        self.decks.iter().find(|d| d.id() == *id && !d.shadowed)
    }
}

/// Reads a deck of the program that has just been laid out. Wherever it lies its files are those of the binary, so it is
/// read once while the program runs; only what was read whole and without fault is kept.
fn read_bundled(folder: &Path) -> Arc<Reading> {
    static READ: Mutex<BTreeMap<OsString, Arc<Reading>>> = Mutex::new(BTreeMap::new());
    let read = || READ.lock().unwrap_or_else(PoisonError::into_inner);
    let name = folder.file_name().unwrap_or_default();
    let kept = read().get(name).cloned();
    kept.unwrap_or_else(|| {
        let reading = Arc::new(deck::read_vouched_deck(folder));
        let is_sound = reading.problems.iter().all(|problem| problem.severity != deck::Severity::Error);
        if reading.readable && is_sound && reading.put_off == 0 {
            read().insert(name.to_owned(), Arc::clone(&reading));
        }
        reading
    })
}

/// What was found of the decks that come with the program.
fn notes(laid_out: &LaidOut) -> Vec<String> {
    let mut notes = Vec::new();
    if laid_out.mended > 0 {
        let files = english::capital(&words::count_in_words(laid_out.mended, "file"));
        let (were, have) = if laid_out.mended == 1 { ("was", "has") } else { ("were", "have") };
        notes.push(format!(
            "{files} of the program’s own decks {were} damaged or missing and {have} been written again."
        ));
    }
    if laid_out.moved > 0 {
        notes.push(format!(
            "Files that did not come with the program lay in its own decks; they were moved to {}. Put decks of your own \
             into the folder `{OWN_DECKS}`.",
            laid_out.moved_to.display()
        ));
    }
    notes
}

/// Why a folder of decks cannot be looked through, in sentences; a folder that is not there is merely empty.
fn unreadable(folder: &Path) -> Option<String> {
    match std::fs::read_dir(folder) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => Some(format!(
            "The decks in {} cannot be read ({error}). Allow reading that folder, then have the decks read again in the \
             library.",
            folder.display()
        )),
        _ => None,
    }
}

/// What a card's area is called: its heading, or else its competence's title.
pub fn area_name(card: &Card) -> &str {
    match &card.heading {
        Some(heading) => heading,
        None => deck::competences().get(&card.topic).map_or(card.topic.as_str(), |c| c.title.as_str()),
    }
}
