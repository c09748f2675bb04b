//! Laying a card on its sheet, and taking in what is given to it: the one match over kinds of the program without a face
//! is here ([`on_sheet`]).

mod kind;
mod lineup;
mod point;
mod recall;
mod sequence;
mod working;

use kind::{OnSheet, Plain};

use super::after::{AfterCheck, AfterRun};
use super::answer_sheet::{AnswerSheet, HandedIn, Stage};
use crate::domain::answer::{Answer, Given};
use crate::domain::card::Card;
use crate::domain::day::Instant;
use crate::domain::kinds::Body;
use crate::domain::marking::reader::Reading;
use crate::domain::marking::{AnswerError, Marking, mark_read};

/// What a card's kind does on the sheet; most are answered once, and that is all.
fn on_sheet(body: &Body) -> &dyn OnSheet {
    match body {
        Body::Recall(recall) => recall,
        Body::Sequence(procedure) => procedure,
        Body::Lineup(network) => network,
        Body::Working(working) => working,
        Body::Point(pointing) => pointing,
        _ => &Plain,
    }
}

impl AnswerSheet {
    /// A card laid on the sheet. `shuffle` gives an order of `n` things, as positions from 1; figures are drawn from
    /// `seed`.
    pub fn of(card: &Card, stage: Stage, now: Instant, seed: u64, shuffle: impl FnOnce(usize) -> Vec<usize>) -> Self {
        let things = card.body.as_kind().shuffled();
        Self {
            key: card.key.clone(),
            shown_at: now,
            shuffled: if things == 0 { Vec::new() } else { shuffle(things) },
            stage,
            handed: None,
            sequence: AfterRun::default(),
            lineup: AfterCheck::default(),
            explaining: None,
            work: on_sheet(&card.body).at_work(seed),
        }
    }

    /// The question of its card with the figures that are drawn on it; none where there are none.
    pub fn question(&self, card: &Card) -> Option<String> {
        on_sheet(&card.body).question(card, self)
    }

    /// How many things an answer to the card says, for a learner who is made up.
    pub fn sample_parts(&self, card: &Card) -> usize {
        on_sheet(&card.body).sample_parts()
    }

    /// What a made-up learner gives to the card who has said these things, by number.
    pub fn sample(&self, card: &Card, said: Vec<usize>) -> Given {
        on_sheet(&card.body).sample(card, self, said)
    }

    /// Takes in what was given: the first answer, or what may follow it.
    ///
    /// # Errors
    /// Where the answer's form does not fit the card.
    pub fn submit(&mut self, card: &Card, given: Given, now: Instant) -> Result<(), AnswerError> {
        if self.handed.is_some() {
            return Ok(());
        }
        on_sheet(&card.body).submit(self, card, given, now)
    }

    /// Hands in a typed answer that is read before it is marked. Its time ends here.
    pub fn hand_in(&mut self, number: u64, given: Given, now: Instant) {
        if matches!(self.stage, Stage::Asked) && self.handed.is_none() {
            self.handed = Some(HandedIn { number, given, seconds: self.seconds(now) });
        }
    }

    /// Takes the answer that is being read back: the question stands again. Whether there was one.
    pub fn withdraw(&mut self) -> bool {
        self.handed.take().is_some()
    }

    /// What the answer that is being read would be marked as; none where none is.
    ///
    /// # Errors
    /// Where the answer's form does not fit the card.
    pub fn would_be(&self, card: &Card, reading: Option<&Reading>) -> Result<Option<Marking>, AnswerError> {
        let Some(handed) = &self.handed else { return Ok(None) };
        let answer = Answer { given: handed.given.clone(), seconds: Some(handed.seconds) };
        mark_read(card, &answer, reading).map(Some)
    }

    /// Marks the answer that was being read, with its reading where it has come.
    ///
    /// # Errors
    /// Where the answer's form does not fit the card; the question stands again then.
    pub fn mark_handed(&mut self, card: &Card, reading: Option<&Reading>) -> Result<(), AnswerError> {
        let Some(HandedIn { given, seconds, .. }) = self.handed.take() else { return Ok(()) };
        self.mark_first(card, given, seconds, reading)
    }
}
