//! What is done to the card in play, in the watch or in the sitting, whichever is in front.

use crate::app::profile::shelf::Shelf;
use crate::app::program::app::{App, Open, Stage};
use crate::app::program::route::Route;
use crate::app::sheet::AnswerSheet;
use crate::app::sitting::AtSheet;
use crate::domain::card::Card;
use crate::domain::oral::{Disclosure, Place, disclosure};
use crate::domain::outcome::Notch;

impl App {
    /// The sitting is in front.
    pub(super) fn in_oral(&self) -> bool {
        self.route == Route::Oral && self.oral.is_some()
    }

    /// A deck is being written.
    pub(super) fn in_writing(&self) -> bool {
        matches!(self.route, Route::Write(_))
    }

    /// What may be told of a marked answer to the card in play.
    pub(super) fn told(&self) -> Disclosure {
        let oral = self.oral.as_ref().filter(|_| self.in_oral()).zip(self.open());
        let place = oral.and_then(|(oral, open)| oral.place(&open.profile.learner));
        disclosure(place.unwrap_or(Place::Watch), true)
    }

    /// The watch, the sitting or the deck being written that is in front, with the shelf; none while an answer of either is being kept.
    fn at_sheet(&mut self) -> Option<(&mut dyn AtSheet, &Shelf)> {
        if self.is_keeping() || self.keeping.turn.is_some() {
            return None;
        }
        let (in_oral, in_writing) = (self.in_oral(), self.in_writing());
        let Stage::Open(open) = &mut self.stage else { return None };
        let Open { shelf, writing, .. } = &mut **open;
        let at_sheet: &mut dyn AtSheet = match (in_writing, in_oral) {
            (true, _) => writing.as_deref_mut()?,
            (false, true) => self.oral.as_mut()?,
            (false, false) => self.session.as_mut()?,
        };
        Some((at_sheet, shelf))
    }

    /// Does something to the card in play; none where there is none, or where its answer is being kept.
    pub(super) fn with_sheet<R>(&mut self, run: impl FnOnce(&Card, &mut AnswerSheet) -> R) -> Option<R> {
        let (at_sheet, shelf) = self.at_sheet()?;
        let (card, sheet) = at_sheet.in_play(shelf)?;
        Some(run(card, sheet))
    }

    /// Ticks a key point (from 1) as said, or takes the tick away.
    pub(super) fn tick(&mut self, point: usize) {
        let Some((at_sheet, shelf)) = self.at_sheet() else { return };
        if let Err(error) = at_sheet.tick(shelf, point) {
            self.fail(&error);
        }
    }

    /// Says of a key point (from 1) that was not sure whether it is said; in a sitting the examiner has asked already.
    pub(super) fn settle_point(&mut self, point: usize, said: bool) {
        if self.in_oral() {
            return;
        }
        if let Some(Err(error)) = self.with_sheet(|card, sheet| sheet.settle(card, point, said)) {
            self.fail(&error);
        }
    }

    /// Moves the outcome by a notch, where whoever marks may do so.
    pub(super) fn set_notch(&mut self, notch: Notch) {
        if let Some((at_sheet, shelf)) = self.at_sheet() {
            at_sheet.set_notch(shelf, notch);
        }
    }
}
