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
use super::answer_sheet::{AnswerSheet, Stage};
use crate::domain::answer::Given;
use crate::domain::card::Card;
use crate::domain::day::Instant;
use crate::domain::kinds::Body;
use crate::domain::marking::AnswerError;

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
        on_sheet(&card.body).submit(self, card, given, now)
    }
}
