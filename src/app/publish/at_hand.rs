//! The edition of a deck that is in use, looked up without changing anything in the home: as the shelf would choose it.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use crate::app::profile::bundled;
use crate::app::profile::shelf::{DECK, OWN_DECKS, Origin};
use crate::app::publish::folder;
use crate::deck::sealed::{Entry, Listed, contents_digest};
use crate::deck::{Reading, read_deck_head, read_deck_to_ask, read_sealed_head, read_sealed_to_ask};
use crate::domain::taking_in::InUse;
use crate::store::taken_in::{self, TakenIn};

/// An edition in use, not read yet beyond its head.
#[derive(Debug)]
pub struct AtHand {
    /// Publication number.
    pub edition: u32,
    /// Where it comes from.
    pub origin: Origin,
    lies: Lies,
    /// The digest of its files, where that was kept.
    contents: Option<String>,
}

#[derive(Debug)]
enum Lies {
    In(PathBuf),
    Held(BTreeMap<String, Vec<u8>>),
}

/// The edition in use of a deck, by what is known of it as taken in; none where there is no such deck.
pub fn find(home: &Path, deck: &str, state: &TakenIn) -> Option<AtHand> {
    let all = taken(home, deck, state).into_iter().chain(elsewhere(home, deck));
    all.max_by_key(|at_hand| at_hand.origin.rank(at_hand.edition))
}

fn taken(home: &Path, deck: &str, state: &TakenIn) -> Option<AtHand> {
    let kept = state.in_use.as_ref()?;
    let folder = taken_in::folder(home, deck, kept).join(DECK);
    let is_there = folder.is_dir();
    let (origin, contents) = (Origin::TakenIn { over: kept.over }, Some(kept.contents.clone()));
    is_there.then_some(AtHand { edition: kept.edition, origin, lies: Lies::In(folder), contents })
}

fn elsewhere(home: &Path, deck: &str) -> impl Iterator<Item = AtHand> {
    let own = bundled::deck_folders(&home.join(OWN_DECKS)).into_iter().filter_map(|folder| {
        let head = read_deck_head(&folder).filter(|head| head.id.0 == deck)?;
        Some(AtHand { edition: head.edition, origin: Origin::Own, lies: Lies::In(folder), contents: None })
    });
    let held = bundled::held_decks().into_iter().filter_map(|files| {
        let head = read_sealed_head(&files).filter(|head| head.id.0 == deck)?;
        Some(AtHand { edition: head.edition, origin: Origin::Bundled, lies: Lies::Held(files), contents: None })
    });
    let all: Vec<AtHand> = own.chain(held).collect();
    all.into_iter()
}

impl AtHand {
    /// What the rules of taking in want to know of it.
    pub fn in_use(&self) -> InUse {
        let contents = self.contents.clone().unwrap_or_else(|| self.digest());
        InUse { edition: self.edition, contents, is_bundled: self.origin == Origin::Bundled }
    }

    /// The digest of its files; none that any other deck has where they could not be sealed.
    fn digest(&self) -> String {
        let listed = |files: &[Entry]| files.iter().map(Listed::of).collect::<Vec<_>>();
        match &self.lies {
            Lies::In(folder) => folder::read(folder).map(|files| contents_digest(&listed(&files))).unwrap_or_default(),
            Lies::Held(files) => {
                let entry = |(name, bytes): (&String, &Vec<u8>)| Entry { name: name.clone(), bytes: bytes.clone() };
                contents_digest(&listed(&files.iter().map(entry).collect::<Vec<_>>()))
            }
        }
    }

    /// Reads its cards.
    pub fn read(&self) -> Reading {
        match &self.lies {
            Lies::In(folder) => read_deck_to_ask(folder),
            Lies::Held(files) => read_sealed_to_ask(files),
        }
    }
}
