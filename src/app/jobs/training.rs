//! Learning a learner's own memory parameters, with progress and stop.
//!
//! It goes in three steps: the store reads the answers, a thread learns from them, and where what was learned foretells
//! better, the store works every card's memory out anew.

use std::collections::HashMap;

use crate::app::jobs::crew::Crew;
use crate::app::jobs::job::{Control, Job, JobFault, Polled, Prepared, Task};
use crate::app::profile::learner::Learner;
use crate::domain::attempt::Attempt;
use crate::domain::day::Instant;
use crate::domain::ids::CardKey;
use crate::domain::memory::CardMemory;
use crate::domain::memory::model::Model;
use crate::domain::memory::replay::{Memories, replay};
use crate::domain::memory::train::{Review, TrainError, Trained, Training, train};
use crate::store::Store;

const LEARN: Task<Inquiry, Result<Trained, TrainError>> =
    Task { thread: Some("training"), stack: None, limit: None, work: learn };
const REBUILD: Task<Memory, Memory> = Task { thread: None, stack: None, limit: None, work: |memory, _| memory };

type Memory = HashMap<CardKey, CardMemory>;

/// What a training has come to.
pub enum TrainingEvent {
    /// Nothing was learned.
    Failed(TrainError),
    /// The answers could not be read, or the work broke off.
    Broken(JobFault),
    /// Better parameters were learned, and every card's memory worked out with them.
    Better(Box<Trained>, Box<Model>, HashMap<CardKey, CardMemory>),
    /// What was learned does not foretell better; all stays as it was.
    NoBetter(Trained),
}

/// What is learned from.
struct Inquiry {
    numbers: HashMap<CardKey, usize>,
    reviews: Vec<Review>,
    current: Model,
    training: Training,
}

fn learn(inquiry: Inquiry, _: &Control) -> Result<Trained, TrainError> {
    train(&inquiry.reviews, &inquiry.current, &inquiry.training)
}

/// What was learned, while memories are worked out anew with it.
struct Better {
    trained: Box<Trained>,
    model: Box<Model>,
    memory: Job<(), Memory, Memory>,
}

/// The learning, as far as it has come.
pub struct TrainingJob {
    learning: Job<(), Inquiry, Result<Trained, TrainError>>,
    better: Option<Better>,
    /// The target that memories are worked out for.
    target: f64,
    training: Training,
    shown: u32,
    crew: Crew,
}

impl TrainingJob {
    pub(super) fn new(crew: &Crew) -> Self {
        Self {
            learning: Job::new(LEARN, crew.clone()),
            better: None,
            target: 0.0,
            training: Training::default(),
            shown: 0,
            crew: crew.clone(),
        }
    }

    /// How far it is, 0 to 1; none where nothing is being learned.
    pub fn progress(&self) -> Option<f64> {
        (self.learning.is_busy() || self.better.is_some()).then(|| self.training.share())
    }

    /// Begins, where it has not.
    pub(in crate::app) fn begin(&mut self, learner: &Learner, store: &Store, now: Instant) {
        if self.progress().is_some() {
            return;
        }
        self.training = Training::default();
        (self.target, self.shown) = (learner.model.target(), 0);
        let inquiry = Inquiry {
            numbers: HashMap::new(),
            reviews: Vec::new(),
            current: learner.model.clone(),
            training: self.training.clone(),
        };
        let ticket = store.fold_attempts(inquiry, |inquiry: &mut Inquiry, attempt: Attempt| {
            let number = inquiry.numbers.len();
            let card = *inquiry.numbers.entry(attempt.card.clone()).or_insert(number);
            inquiry.reviews.push(Review { card, day: attempt.day(), outcome: attempt.final_outcome() });
        });
        self.learning.cancel();
        self.learning.request((), now, |()| Prepared::Asked(ticket));
    }

    /// Stops it: at once while the answers are read, at the trainer's next step after that.
    pub(in crate::app) fn stop(&mut self) {
        self.training.stop();
        if self.learning.is_reading() {
            self.learning.cancel();
        }
    }

    /// Takes in what has come: whether the screen changes, and what the training has come to.
    pub(super) fn poll(&mut self, store: Option<&Store>, now: Instant) -> (Polled, Option<TrainingEvent>) {
        let learned = self.learning.poll(now);
        let rebuilt = self.better.as_mut().map_or(Polled::Nothing, |better| better.memory.poll(now));
        if learned == Polled::Ended || rebuilt == Polled::Ended {
            return (Polled::Ended, self.next(store, now));
        }
        let share = (self.training.share() * 100.0) as u32;
        let moved = self.learning.is_busy() && std::mem::replace(&mut self.shown, share) != share;
        (if moved { Polled::Moved } else { Polled::Nothing }, None)
    }

    /// Blocks until it has come to something: for faces without frames.
    pub(super) fn wait(&mut self, store: Option<&Store>, now: Instant) -> Option<TrainingEvent> {
        if self.learning.wait() == Polled::Ended
            && let Some(event) = self.next(store, now)
        {
            return Some(event);
        }
        (self.better.as_mut()?.memory.wait() == Polled::Ended).then(|| self.next(store, now)).flatten()
    }

    /// What comes after a step that has ended.
    fn next(&mut self, store: Option<&Store>, now: Instant) -> Option<TrainingEvent> {
        if let Some(Better { trained, model, mut memory }) = self.better.take() {
            return Some(match memory.take()? {
                Ok(memory) => TrainingEvent::Better(trained, model, memory),
                Err(fault) => TrainingEvent::Broken(fault),
            });
        }
        let event = match self.learning.take()? {
            Err(JobFault::Panicked) => TrainingEvent::Failed(TrainError::Failed("its thread ended".to_owned())),
            Err(fault) => TrainingEvent::Broken(fault),
            Ok(Err(error)) => TrainingEvent::Failed(error),
            Ok(Ok(trained)) if !trained.is_better() => TrainingEvent::NoBetter(trained),
            Ok(Ok(trained)) => {
                let new = Model::with_parameters(&trained.parameters, self.target);
                let (Ok(model), Some(store)) = (new, store) else { return Some(TrainingEvent::NoBetter(trained)) };
                let mut memory = Job::new(REBUILD, self.crew.clone());
                memory.request((), now, |()| Prepared::Asked(store.fold_attempts(Memories::new(), replay(&model))));
                self.better = Some(Better { trained: Box::new(trained), model: Box::new(model), memory });
                return None;
            }
        };
        Some(event)
    }

    pub(super) fn cancel(&mut self) {
        self.training.stop();
        self.learning.cancel();
        self.better = None;
    }
}

impl Drop for TrainingJob {
    fn drop(&mut self) {
        self.training.stop();
    }
}
