//! Typed answers to key points are read by the trained reader before they are marked: handed to it, taken in when the
//! reading has come, and marked by their words alone where it does not come in time.
//!
//! An answer that is being read stands on its own sheet under a number. Whatever puts the sheet away puts the answer away
//! with it: a reading that comes afterwards finds no answer of its number and marks nothing.

use std::sync::Arc;

use crate::app::jobs::reading::{Kept, ToRead};
use crate::app::program::app::{App, Open, Stage};
use crate::app::sheet;
use crate::app::sitting::AtSheet;
use crate::domain::answer::Given;
use crate::domain::day::Instant;
use crate::domain::english;
use crate::domain::marking::reader::Reading;
use crate::domain::marking::{AnswerError, to_read};
use crate::present::{Notice, Tone};

impl App {
    /// Whether typed answers are read by the trained reader: it is there, and the learner has not switched it off.
    fn has_second_reader(&self) -> bool {
        self.jobs.reading.is_there() && self.open().is_some_and(|open| open.profile.learner.settings.second_reader)
    }

    /// The trained reader, for what is marked in the background; none where answers are marked by their words alone.
    pub(in crate::app) fn shared_reader(&self) -> Option<Arc<Kept>> {
        self.jobs.reading.shared().filter(|_| self.has_second_reader())
    }

    /// Answers will be typed soon: the reader is loaded meanwhile.
    pub(super) fn expect_typing(&mut self) {
        if self.has_second_reader() {
            let now = self.now();
            self.jobs.reading.warm(now);
        }
    }

    /// Has an answer read before it is marked, where it is typed words to key points and there is a reader; whether it is.
    pub(super) fn have_read(&mut self, given: &Given, now: Instant) -> bool {
        if !self.has_second_reader() {
            return false;
        }
        let what = self.with_sheet(|card, sheet| {
            let (card, front) = sheet.front(card);
            let takes = front.handed.is_none() && matches!(front.stage, sheet::Stage::Asked);
            let (points, text) = to_read(card, given).filter(|(_, text)| takes && !text.trim().is_empty())?;
            Some(ToRead { ask: card.ask.clone(), points: points.to_vec(), text: text.to_owned() })
        });
        let Some(number) = what.flatten().and_then(|what| self.jobs.reading.request(what, now)) else { return false };
        self.with_sheet(|_, sheet| sheet.hand_in(number, given.clone(), now));
        // One answer is read at a time: one that was being read elsewhere is marked as it is.
        self.mark_unread();
        true
    }

    /// Takes the answer that is being read back into the field.
    pub(super) fn withdraw(&mut self) {
        if self.with_sheet(|_, sheet| sheet.withdraw()) == Some(true) {
            self.jobs.reading.cancel();
        }
    }

    /// Marks the answer of this number, where it still stands on its sheet.
    pub(in crate::app) fn take_reading(&mut self, number: u64, reading: Option<&Reading>) {
        self.mark_handed(|at_work| at_work == number, reading);
    }

    /// Marks answers that nobody reads any more by their words alone; true where there was one.
    pub(in crate::app) fn mark_unread(&mut self) -> bool {
        let at_work = self.jobs.reading.at_work();
        self.mark_handed(|number| Some(number) != at_work, None)
    }

    fn mark_handed(&mut self, is_it: impl Fn(u64) -> bool, reading: Option<&Reading>) -> bool {
        let Stage::Open(open) = &mut self.stage else { return false };
        let Open { shelf, writing, .. } = &mut **open;
        let mut of_writing = None;
        if let Some(writing) = writing.as_deref_mut().filter(|writing| writing.awaits().is_some_and(&is_it)) {
            of_writing = Some(writing.mark_handed(shelf, reading));
        }
        let mut of_oral = None;
        if let Some(oral) = self.oral.as_mut().filter(|oral| oral.awaits().is_some_and(&is_it)) {
            of_oral = Some(oral.mark_handed(shelf, reading));
        }
        let mut of_watch = None;
        if let Some(session) = self.session.as_mut().filter(|session| session.awaits().is_some_and(&is_it)) {
            of_watch = Some(session.mark_handed(shelf, reading));
        }
        let is_tried = of_writing.is_some();
        let marked: Vec<Result<(), AnswerError>> = of_oral.into_iter().chain(of_watch).chain(of_writing).collect();
        for error in marked.iter().filter_map(|marked| marked.as_ref().err()) {
            self.fail(error);
        }
        if is_tried {
            self.tell_at_once();
        }
        !marked.is_empty()
    }

    /// Says that there is no trained reader, and how answers are marked.
    pub(in crate::app) fn tell_no_reader(&mut self, why: &str) {
        self.say(Notice { tone: Tone::Weak, text: english::sentence(why) });
    }
}
