//! A watch being stood: the card on the sheet, from the question to the accepted outcome.
//!
//! Pure as an engine is: a session takes inputs with the time and gives back what to keep. It writes nothing.

use super::answer_sheet::{AnswerSheet, Stage};
use super::desk::AtWork;
use crate::domain::attempt::Attempt;
use crate::domain::card::Card;
use crate::domain::day::Instant;
use crate::domain::ids::CardKey;
use crate::domain::memory::watch::{Turn, Watch};

/// So many answers of a watch can be taken back, one after the other.
const MOST_TAKEN_BACK: usize = 50;

/// A card that slipped in a watch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Slipped {
    /// Which card.
    pub card: CardKey,
    /// Why, in a sentence.
    pub why: String,
}

/// A watch with the card on its sheet.
#[derive(Debug, Clone)]
pub struct Session {
    /// What is still to come.
    pub watch: Watch,
    /// The card on the sheet; none at the end.
    pub sheet: Option<AnswerSheet>,
    /// What slipped in it, in order.
    pub slips: Vec<Slipped>,
    /// Seconds answered so far.
    pub seconds: f64,
    /// A working that was left unanswered, with the seconds that it took so far.
    resting: Option<(CardKey, Box<AtWork>, f64)>,
    /// Answers accepted in it that can be taken back, the last one last.
    accepted: Vec<Accepted>,
}

/// An accepted answer that can be taken back.
#[derive(Debug, Clone)]
struct Accepted {
    attempt: Attempt,
    /// The watch as it stood before, the answer marked on its sheet.
    before: Box<Session>,
}

impl Session {
    /// A session at its first card.
    pub fn begin(watch: Watch) -> Self {
        Self { watch, sheet: None, slips: Vec::new(), seconds: 0.0, resting: None, accepted: Vec::new() }
    }

    /// The answer on the sheet was accepted and kept; what follows changes the watch.
    pub fn note_accepted(&mut self, attempt: Attempt) {
        let mut accepted = std::mem::take(&mut self.accepted);
        if accepted.len() == MOST_TAKEN_BACK {
            accepted.remove(0);
        }
        accepted.push(Accepted { attempt, before: Box::new(self.clone()) });
        self.accepted = accepted;
    }

    /// The answer accepted last, and the sheet that it stood on; none where there is none that can be taken back.
    pub fn last_accepted(&self) -> Option<(&Attempt, Option<&AnswerSheet>)> {
        self.accepted.last().map(|last| (&last.attempt, last.before.sheet.as_ref()))
    }

    /// The watch as it was before its last answer was accepted, and that answer; a working that has been begun since
    /// keeps its figures. Cards that `is_aside` names have been set aside meanwhile and do not come again.
    pub fn take_back(mut self, now: Instant, is_aside: impl Fn(&CardKey) -> bool) -> (Self, Option<Attempt>) {
        let Some(Accepted { attempt, before }) = self.accepted.pop() else { return (self, None) };
        if self.sheet.is_some() {
            self.rest(now);
        }
        let mut watch = before.watch.clone();
        let aside: Vec<CardKey> = watch.coming().skip(1).filter(|key| is_aside(key)).cloned().collect();
        for key in aside {
            watch = watch.without(&key);
        }
        (Self { watch, resting: self.resting, accepted: self.accepted, ..*before }, Some(attempt))
    }

    /// Lays the current card on the sheet. `shuffle` gives an order of `n` things, as positions from 1; figures are
    /// drawn from `seed`.
    pub fn lay(&mut self, card: Option<&Card>, now: Instant, seed: u64, shuffle: impl FnOnce(usize) -> Vec<usize>) {
        let turn = self.watch.current().map(|c| c.turn);
        self.sheet = match (card, turn) {
            (Some(card), Some(turn)) => {
                let stage = if turn == Turn::Remedy { Stage::Remedy(0) } else { Stage::Asked };
                Some(AnswerSheet::of(card, stage, now, seed, shuffle))
            }
            _ => None,
        };
        self.take_up_again(now);
    }

    /// Takes the card off the sheet, unanswered. A working keeps its figures, what was written and its clock: with
    /// other figures all of it would be for nothing.
    pub fn rest(&mut self, now: Instant) {
        let Some(sheet) = self.sheet.take() else { return };
        let seconds = sheet.seconds(now);
        let work = sheet.work.filter(|_| matches!(sheet.stage, Stage::Asked));
        self.resting = work.map(|work| (sheet.key, work, seconds));
    }

    fn take_up_again(&mut self, now: Instant) {
        let Some(sheet) = self.sheet.as_mut().filter(|s| s.work.is_some() && matches!(s.stage, Stage::Asked)) else {
            return;
        };
        if let Some((_, work, seconds)) = self.resting.take_if(|(key, ..)| *key == sheet.key) {
            sheet.work = Some(work);
            sheet.shown_at = Instant(now.0 - (seconds * 1_000.0) as i64);
        }
    }
}
