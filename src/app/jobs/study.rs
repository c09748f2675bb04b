//! What is worked out of the card that a writer has in hand: what can be proved of it, and what its samples come to.

use std::sync::Arc;

use super::crew::Crew;
use super::job::{Control, Job, JobFault, Polled, Prepared, Task};
use super::reading::Kept;
use crate::app::views::kinds;
use crate::domain::card::Card;
use crate::domain::day::Instant;
use crate::domain::marking::Marker;

/// A card, and the trained reader where there is one.
type ToStudy = (Card, Option<Arc<Kept>>);

const TASK: Task<ToStudy, Study> = Task { thread: Some("study"), stack: None, limit: None, work };

/// What was found of a card.
#[derive(Debug, Clone, PartialEq)]
pub struct Study {
    /// What can be proved of it, in sentences, or why it cannot; none of kinds of which nothing can.
    pub proof: Option<Result<Vec<String>, String>>,
    /// For each of its samples in what it comes out otherwise than it is meant to, in words; empty where it does not.
    pub samples: Vec<String>,
}

fn work((card, kept): ToStudy, control: &Control) -> Study {
    let reader = kept.filter(|_| !card.samples.is_empty()).and_then(|kept| kept.get().ok());
    let marker = reader.as_deref().map_or_else(Marker::default, Marker::with);
    let mut samples = Vec::new();
    for sample in &card.samples {
        if !control.is_wanted() {
            break;
        }
        let otherwise = match card.answer_of(sample).map(|answer| marker.mark(&card, &answer)) {
            None => "no order of the steps works".to_owned(),
            Some(Err(error)) => error.message,
            Some(Ok(marking)) => {
                let differences: Vec<String> = sample.differences(&marking).iter().map(ToString::to_string).collect();
                differences.join("; ")
            }
        };
        samples.push(otherwise);
    }
    Study { proof: kinds::proof(&card), samples }
}

/// The card that is studied.
pub struct StudyJob(Job<(Card, bool), ToStudy, Study>);

impl StudyJob {
    pub(super) fn new(crew: &Crew) -> Self {
        Self(Job::new(TASK, crew.of_at_most(1)))
    }

    /// Has a card studied, its samples marked by the trained reader too, where it is given.
    pub(in crate::app) fn request(&mut self, card: &Card, kept: Option<Arc<Kept>>, now: Instant) {
        let question = (card.clone(), kept.is_some());
        self.0.request(question, now, |(card, _)| Prepared::Ready((card.clone(), kept)));
    }

    pub(super) fn poll(&mut self, now: Instant) -> bool {
        self.0.poll(now) != Polled::Nothing
    }

    pub(super) fn wait(&mut self) {
        self.0.wait();
    }

    pub(super) fn cancel(&mut self) {
        self.0.cancel();
    }

    /// What was found of this card, or why nothing was; none while it is on its way.
    pub(in crate::app) fn of(&self, card: &Card) -> Option<Result<&Study, &JobFault>> {
        self.0.question().filter(|(of, _)| of == card)?;
        self.0.result()
    }
}
