//! The decks at hand: those that come with the program and those in the home folder.

use std::collections::HashMap;
use std::path::{Path, PathBuf};

use crate::app::bundled;
use crate::deck::{self, Reading};
use crate::domain::card::{Body, Card};
use crate::domain::deck::Deck;
use crate::domain::drawing::Pointing;
use crate::domain::ids::{CardKey, DeckId};

/// The folder under the home folder that a learner's own decks are put in.
pub const OWN_DECKS: &str = "decks";

/// All decks at hand.
#[derive(Debug, Default)]
pub struct Shelf {
    /// In order of title.
    pub decks: Vec<Shelved>,
    by_key: HashMap<CardKey, (usize, usize)>,
}

/// One deck on the shelf.
#[derive(Debug)]
pub struct Shelved {
    /// Where it was read from.
    pub folder: PathBuf,
    /// It came with the program.
    pub bundled: bool,
    /// What reading it gave.
    pub reading: Reading,
    /// Another deck of the same id stands before it, so that this one is not used.
    pub shadowed: bool,
}

impl Shelved {
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
    /// Reads every deck: the learner's own from `<home>/decks`, then those that come with the program. Where two have
    /// the same id the one of the higher edition is used, the learner's own before the program's.
    ///
    /// # Errors
    /// Where the home folder cannot be written (the program's decks are laid out there).
    pub fn read(home: &Path) -> std::io::Result<Self> {
        let mut decks = Vec::new();
        for folder in bundled::deck_folders(&home.join(OWN_DECKS)) {
            let reading = deck::read_deck(&folder);
            decks.push(Shelved { folder, bundled: false, reading, shadowed: false });
        }
        for folder in bundled::lay_out(home)? {
            let reading = deck::read_vouched_deck(&folder);
            decks.push(Shelved { folder, bundled: true, reading, shadowed: false });
        }
        Ok(Self::of(decks))
    }

    /// A shelf of decks that have been read.
    pub fn of(mut decks: Vec<Shelved>) -> Self {
        let title = |d: &Shelved| d.reading.deck.as_ref().map_or_else(|| d.id().0, |deck| deck.title.clone());
        decks.sort_by(|a, b| title(a).cmp(&title(b)).then_with(|| a.bundled.cmp(&b.bundled)));
        let mut best: HashMap<DeckId, usize> = HashMap::new();
        for (n, shelved) in decks.iter().enumerate() {
            let Some(deck) = &shelved.reading.deck else { continue };
            let rank = |at: usize| decks[at].reading.deck.as_ref().map(|d| (d.edition, !decks[at].bundled));
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
        Self { decks, by_key }
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
        match &shelved.deck()?.cards.get(*c)?.body {
            Body::Point(pointing) => Some((&shelved.folder, pointing)),
            _ => None,
        }
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

/// What a card's area is called: its heading, or else its competence's title.
pub fn area_name(card: &Card) -> &str {
    match &card.heading {
        Some(heading) => heading,
        None => deck::competences().get(&card.topic).map_or(card.topic.as_str(), |c| c.title.as_str()),
    }
}
