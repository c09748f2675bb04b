//! The memory model's own parameters for one learner, learned from their attempts, and taken only where they foretell
//! later attempts better.
//!
//! The trainer of the `fsrs` crate panics on items without a day between reviews, falls back in silence on few, and on a
//! small history may do worse than the published defaults: so items are chosen here, a panic is caught, and the last
//! quarter of the reviews is held back to judge by.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::{Arc, Mutex, PoisonError};

use fsrs::{CombinedProgressState, ComputeParametersInput, FSRSError, FSRSItem, FSRSReview, compute_parameters};

use crate::domain::day::StudyDay;
use crate::domain::memory::model::Model;
use crate::domain::outcome::Outcome;

/// With fewer reviews after a day or more, nothing is learned.
pub const LEAST: usize = 400;
/// This share of the reviews, the latest, is held back.
const HELD_BACK: f64 = 0.25;
/// New parameters have to lower the mean log loss by so much.
const MARGIN: f64 = 0.000_5;
/// Reviews of one card that are taken at most.
const LONGEST: usize = 64;
/// Log loss takes no forecast to be more certain than this.
const CLIP: f64 = 1e-6;

/// An attempt as the trainer sees it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Review {
    /// Which card, by number.
    pub card: usize,
    /// The study day.
    pub day: StudyDay,
    /// What it came to in the end.
    pub outcome: Outcome,
}

/// What came of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Trained {
    /// The new parameters.
    pub parameters: Vec<f32>,
    /// Reviews that were held back to judge by.
    pub held_back: usize,
    /// Mean log loss on them with the parameters so far.
    pub before: f64,
    /// With the new ones.
    pub after: f64,
}

impl Trained {
    /// The new parameters foretell better.
    pub fn is_better(&self) -> bool {
        self.after + MARGIN < self.before
    }
}

/// Why nothing was learned.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum TrainError {
    /// Not enough reviews.
    #[error("there are {have} reviews after a day or more; it takes {LEAST}. Stand some more watches, and try again")]
    TooFew {
        /// So many there are.
        have: usize,
    },
    /// Training was stopped.
    #[error("it was stopped; nothing has changed")]
    Stopped,
    /// The trainer failed.
    #[error("the trainer failed ({0}); nothing has changed")]
    Failed(String),
}

/// How far a training is, and the way to stop it.
#[derive(Clone, Default)]
pub struct Training(Arc<Mutex<CombinedProgressState>>);

impl Training {
    /// 0 to 1.
    pub fn share(&self) -> f64 {
        let state = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let (current, total) = (state.current(), state.total());
        if total == 0 { 0.0 } else { (current as f64 / total as f64).min(1.0) }
    }

    /// Stops it.
    pub fn stop(&self) {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).want_abort = true;
    }

    fn is_stopped(&self) -> bool {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).want_abort
    }
}

/// Learns parameters from reviews in the order of time. Blocks; a history of thousands takes well under a second.
///
/// # Errors
/// Where there are too few reviews, where it is stopped, or where the trainer fails.
pub fn train(reviews: &[Review], current: &Model, training: &Training) -> Result<Trained, TrainError> {
    let scored = scored(reviews);
    if scored.len() < LEAST {
        return Err(TrainError::TooFew { have: scored.len() });
    }
    let split = scored[(scored.len() as f64 * (1.0 - HELD_BACK)) as usize];
    let train_set = items(&reviews[..split]);
    let input = ComputeParametersInput { train_set, progress: Some(Arc::clone(&training.0)), ..Default::default() };
    let learned = catch_unwind(AssertUnwindSafe(|| compute_parameters(input)));
    if training.is_stopped() {
        return Err(TrainError::Stopped);
    }
    let parameters = match learned {
        Ok(Ok(parameters)) => parameters,
        Ok(Err(FSRSError::Interrupted)) => return Err(TrainError::Stopped),
        Ok(Err(why)) => return Err(TrainError::Failed(format!("{why:?}"))),
        Err(_) => return Err(TrainError::Failed("it gave up on this history".to_owned())),
    };
    let new = Model::with_parameters(&parameters, current.target())
        .map_err(|_| TrainError::Failed("its parameters are no numbers".to_owned()))?;
    Ok(Trained {
        held_back: scored.iter().filter(|at| **at >= split).count(),
        before: log_loss(reviews, split, current),
        after: log_loss(reviews, split, &new),
        parameters,
    })
}

/// Positions of reviews that come a day or more after the one before them of their card.
fn scored(reviews: &[Review]) -> Vec<usize> {
    let mut last = rustc_hash::FxHashMap::default();
    let mut found = Vec::new();
    for (at, review) in reviews.iter().enumerate() {
        if last.insert(review.card, review.day).is_some_and(|before: StudyDay| review.day > before) {
            found.push(at);
        }
    }
    found
}

/// An item for each scored review, with the reviews of its card up to it.
fn items(reviews: &[Review]) -> Vec<FSRSItem> {
    let mut histories: rustc_hash::FxHashMap<usize, (StudyDay, Vec<FSRSReview>)> = rustc_hash::FxHashMap::default();
    let mut items = Vec::new();
    for review in reviews {
        let (last, history) = histories.entry(review.card).or_insert_with(|| (review.day, Vec::new()));
        let delta_t = review.day.days_since(*last);
        history.push(FSRSReview { rating: review.outcome.number(), delta_t });
        *last = review.day;
        if delta_t > 0 && history.len() <= LONGEST {
            items.push(FSRSItem { reviews: history.clone() });
        }
    }
    items
}

/// Mean log loss of a model's forecasts for the scored reviews from position `from` on.
pub fn log_loss(reviews: &[Review], from: usize, model: &Model) -> f64 {
    let mut states: rustc_hash::FxHashMap<usize, (StudyDay, f32, f32)> = rustc_hash::FxHashMap::default();
    let (mut sum, mut count) = (0.0, 0usize);
    for (at, review) in reviews.iter().enumerate() {
        let before = states.get(&review.card).copied();
        let days = before.map_or(0, |(last, ..)| review.day.days_since(last));
        if let (true, Some((_, stability, _))) = (at >= from && days > 0, before) {
            let forecast = model.recall_after(stability, days).clamp(CLIP, 1.0 - CLIP);
            let came = review.outcome > Outcome::Missed;
            sum -= if came { forecast.ln() } else { (1.0 - forecast).ln() };
            count += 1;
        }
        let (stability, difficulty) =
            model.stepped(before.map(|(_, stability, difficulty)| (stability, difficulty)), review.outcome, days);
        states.insert(review.card, (review.day, stability, difficulty));
    }
    if count == 0 { 0.0 } else { sum / count as f64 }
}
