//! Learning a learner's own memory parameters on a thread of its own, with progress and stop.

use std::collections::HashMap;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::thread;

use crate::app::learner::Learner;
use crate::domain::attempt::Attempt;
use crate::domain::ids::CardKey;
use crate::domain::memory::CardMemory;
use crate::domain::memory::model::Model;
use crate::domain::memory::replay::{Memories, replay};
use crate::domain::memory::train::{Review, TrainError, Trained, Training, train};
use crate::store::{Store, StoreError, Ticket, Wake};

/// What has come.
pub enum Come {
    /// Nothing yet.
    Nothing,
    /// The screen changes.
    Moved,
    /// Nothing was learned.
    Failed(TrainError),
    /// Better parameters were learned, and every card's memory worked out with them.
    Better(Box<Trained>, Box<Model>, HashMap<CardKey, CardMemory>),
    /// What was learned does not foretell better; all stays as it was.
    NoBetter(Trained),
}

#[derive(Default)]
enum Stage {
    #[default]
    Idle,
    Reading(Ticket<Reviews>, Box<Model>),
    Working(Receiver<Result<Trained, TrainError>>, Box<Model>),
    Rebuilding(Box<Trained>, Box<Model>, Ticket<HashMap<CardKey, CardMemory>>),
}

#[derive(Default)]
struct Reviews {
    numbers: HashMap<CardKey, usize>,
    all: Vec<Review>,
}

/// Learning, as far as it has come.
#[derive(Default)]
pub struct Trainer {
    stage: Stage,
    training: Training,
    shown: u32,
}

impl Trainer {
    /// How far it is, 0 to 1; none where nothing is being learned.
    pub fn progress(&self) -> Option<f64> {
        (!matches!(self.stage, Stage::Idle)).then(|| self.training.share())
    }

    /// Begins.
    pub fn begin(&mut self, learner: &Learner, store: &Store) {
        if !matches!(self.stage, Stage::Idle) {
            return;
        }
        let ticket = store.fold_attempts(Reviews::default(), |reviews: &mut Reviews, attempt: Attempt| {
            let number = reviews.numbers.len();
            let card = *reviews.numbers.entry(attempt.card.clone()).or_insert(number);
            reviews.all.push(Review { card, day: attempt.day(), outcome: attempt.final_outcome() });
        });
        *self = Self {
            stage: Stage::Reading(ticket, Box::new(learner.model.clone())),
            training: Training::default(),
            shown: 0,
        };
    }

    /// Stops it.
    pub fn stop(&mut self) {
        self.training.stop();
        if matches!(self.stage, Stage::Reading(..)) {
            self.stage = Stage::Idle;
        }
    }

    /// Takes in what has come.
    pub fn take_in(&mut self, store: Option<&Store>, wake: &Wake) -> Result<Come, StoreError> {
        match std::mem::take(&mut self.stage) {
            Stage::Idle => Ok(Come::Nothing),
            Stage::Reading(ticket, model) => match ticket.try_take() {
                None => {
                    self.stage = Stage::Reading(ticket, model);
                    Ok(Come::Nothing)
                }
                Some(reviews) => {
                    let reviews = reviews?;
                    let (sender, receiver) = channel();
                    let (training, wake, current) = (self.training.clone(), wake.clone(), model.clone());
                    thread::spawn(move || {
                        // Nobody listening any more means that the profile has been closed.
                        let _ = sender.send(train(&reviews.all, &current, &training));
                        wake();
                    });
                    self.stage = Stage::Working(receiver, model);
                    Ok(Come::Moved)
                }
            },
            Stage::Working(receiver, model) => match receiver.try_recv() {
                Err(TryRecvError::Empty) => {
                    let now = (self.training.share() * 100.0) as u32;
                    let moved = now != self.shown;
                    self.shown = now;
                    self.stage = Stage::Working(receiver, model);
                    Ok(if moved { Come::Moved } else { Come::Nothing })
                }
                Err(TryRecvError::Disconnected) => Ok(Come::Failed(TrainError::Failed("its thread ended".to_owned()))),
                Ok(Err(error)) => Ok(Come::Failed(error)),
                Ok(Ok(trained)) if !trained.is_better() => Ok(Come::NoBetter(trained)),
                Ok(Ok(trained)) => {
                    let new = Model::with_parameters(&trained.parameters, model.target());
                    let (Ok(new), Some(store)) = (new, store) else { return Ok(Come::NoBetter(trained)) };
                    let rebuilt = store.fold_attempts(Memories::new(), replay(&new));
                    self.stage = Stage::Rebuilding(Box::new(trained), Box::new(new), rebuilt);
                    Ok(Come::Moved)
                }
            },
            Stage::Rebuilding(trained, model, ticket) => match ticket.try_take() {
                None => {
                    self.stage = Stage::Rebuilding(trained, model, ticket);
                    Ok(Come::Nothing)
                }
                Some(memory) => Ok(Come::Better(trained, model, memory?)),
            },
        }
    }
}
