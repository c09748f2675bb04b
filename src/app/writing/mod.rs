//! A deck that is being written: what was last read of it, the card in hand, an answer that is tried on it, its form.
//!
//! What is answered here is kept nowhere: no store is given to any of this.

pub mod files;
mod trial;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::app::profile::shelf::Shelf;
use crate::app::sheet::AnswerSheet;
use crate::app::sitting::AtSheet;
use crate::deck::writing::{Place, in_sight};
use crate::deck::{InSight, Reading};
use crate::domain::card::Card;
use crate::domain::day::Instant;
use crate::domain::deck::Deck;
use crate::domain::drawing::Pointing;
use crate::domain::form::CardForm;
use crate::domain::marking::AnswerError;
use crate::domain::marking::reader::Reading as Read;
use crate::domain::outcome::Notch;
use crate::domain::report::CardReport;

pub use trial::{Trial, WantedOfSample};

/// A deck that is being written.
#[derive(Debug)]
pub struct AtWriting {
    /// Its folder.
    pub folder: PathBuf,
    /// What was last read of it.
    pub reading: Option<Arc<Reading>>,
    /// Its cards, those of a broken file as they were last read.
    pub cards: Vec<InSight>,
    /// The deck as it was last read with a head.
    pub deck: Option<Deck>,
    /// When it was last read.
    pub read_at: Option<Instant>,
    /// Which card is in hand, from 0.
    pub chosen: usize,
    /// The card in hand as it is answered, once it is.
    pub trial: Option<Trial>,
    /// The form that is open.
    pub form: Option<OpenForm>,
    /// How many forms have been opened or written, and cards taken up to be answered.
    pub opened: u64,
    /// What learners have said of its cards and of others.
    pub reports: Vec<CardReport>,
    /// The card of this id is to be in hand once it has been read.
    pub awaited: Option<String>,
}

/// Something of a card, with the deck's folder.
type InFolder<'a, T> = (&'a Path, &'a T);

/// A form that is open.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenForm {
    /// The card as the file has it, or as a new one begins.
    pub form: CardForm,
    /// Where it stands; none for a new card.
    pub place: Option<Place>,
    /// The file, relative to the deck's folder.
    pub file: String,
    /// Why it cannot be written as things stand, in a sentence; empty where it can.
    pub trouble: String,
}

impl AtWriting {
    /// A deck of which nothing has been read yet.
    pub fn of(folder: PathBuf) -> Self {
        Self {
            folder,
            reading: None,
            cards: Vec::new(),
            deck: None,
            read_at: None,
            chosen: 0,
            trial: None,
            form: None,
            opened: 0,
            reports: Vec::new(),
            awaited: None,
        }
    }

    /// Takes in what has been read. The card in hand stays in hand.
    pub fn take_in(&mut self, reading: Reading, now: Instant) {
        let id = self.in_hand().and_then(|seen| seen.written.id.clone());
        let cards = in_sight(&self.cards, &reading);
        let found = id.and_then(|id| cards.iter().position(|seen| seen.written.id.as_ref() == Some(&id)));
        self.chosen = found.unwrap_or(self.chosen).min(cards.len().saturating_sub(1));
        self.cards = cards;
        if reading.deck.is_some() {
            self.deck.clone_from(&reading.deck);
        }
        (self.reading, self.read_at) = (Some(Arc::new(reading)), Some(now));
        if let Some(id) = self.awaited.take() {
            self.choose_id(&id);
        }
    }

    /// What learners have said of the card in hand, the newest first.
    pub fn reports_of_hand(&self) -> Vec<&CardReport> {
        let Some(card) = self.card() else { return Vec::new() };
        let mut reports: Vec<&CardReport> = self.reports.iter().filter(|report| report.card == card.key).collect();
        reports.sort_by_key(|report| std::cmp::Reverse(report.at));
        reports
    }

    /// Where a row of the list stands, and in which file; none where it has no id.
    pub fn place_of(seen: &InSight) -> Option<(String, Place)> {
        let written = &seen.written;
        let place = Place { kind: written.kind, nth: written.nth, id: written.id.clone()? };
        Some((written.file.clone(), place))
    }

    /// The row in hand.
    pub fn in_hand(&self) -> Option<&InSight> {
        self.cards.get(self.chosen)
    }

    /// The card in hand, as it can be read or could be.
    pub fn card(&self) -> Option<&Card> {
        self.in_hand()?.card.as_ref()
    }

    /// The picture of the card in hand, and the drawing that it points at, each with the deck's folder.
    pub fn pictured(&self) -> (Option<InFolder<'_, str>>, Option<InFolder<'_, Pointing>>) {
        let card = self.trial.as_ref().map(|trial| &trial.card).or_else(|| self.card());
        let picture = card.and_then(|card| card.picture.as_deref());
        let pointing = card.and_then(|card| card.body.as_kind().pointing());
        (picture.map(|name| (self.folder.as_path(), name)), pointing.map(|of| (self.folder.as_path(), of)))
    }

    /// Takes a card into the hand.
    pub fn choose(&mut self, at: usize) {
        self.chosen = at.min(self.cards.len().saturating_sub(1));
    }

    /// Takes the card of this id into the hand, where there is one.
    pub fn choose_id(&mut self, id: &str) {
        if let Some(at) = self.cards.iter().position(|seen| seen.written.id.as_deref() == Some(id)) {
            self.chosen = at;
        }
    }
}

impl AtSheet for AtWriting {
    fn in_play<'a>(&'a mut self, _: &'a Shelf) -> Option<(&'a Card, &'a mut AnswerSheet)> {
        let trial = self.trial.as_mut()?;
        Some((&trial.card, &mut trial.sheet))
    }

    fn tick(&mut self, _: &Shelf, point: usize) -> Result<(), AnswerError> {
        let Some(trial) = &mut self.trial else { return Ok(()) };
        trial.wanted = None;
        trial.sheet.tick(&trial.card, point)
    }

    fn awaits(&self) -> Option<u64> {
        Some(self.trial.as_ref()?.sheet.handed.as_ref()?.number)
    }

    fn mark_handed(&mut self, _: &Shelf, reading: Option<&Read>) -> Result<(), AnswerError> {
        let Some(trial) = &mut self.trial else { return Ok(()) };
        trial.reading = reading.cloned();
        trial.sheet.mark_handed(&trial.card, reading)
    }

    fn set_notch(&mut self, _: &Shelf, _: Notch) {}
}
