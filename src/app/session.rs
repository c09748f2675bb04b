//! A watch being stood: the card on the sheet, from the question to the accepted outcome.
//!
//! Pure as an engine is: a session takes inputs with the time and gives back what to keep. It writes nothing.

use crate::domain::answer::{Answer, Given};
use crate::domain::card::{Body, Card};
use crate::domain::day::Instant;
use crate::domain::ids::CardKey;
use crate::domain::marking::{AnswerError, Detail, Marking, mark};
use crate::domain::memory::watch::{Turn, Watch};
use crate::domain::outcome::{Notch, Outcome};

/// The longest time that counts for one answer, in seconds.
const LONGEST_SECONDS: f64 = 1_800.0;

/// A watch with the card on its sheet.
#[derive(Debug, Clone)]
pub struct Session {
    /// What is still to come.
    pub watch: Watch,
    /// The card on the sheet; none at the end.
    pub sheet: Option<Sheet>,
    /// When it was begun.
    pub began: Instant,
    /// What slipped in it, in order, with the reason.
    pub slips: Vec<(CardKey, String)>,
    /// Seconds answered so far.
    pub seconds: f64,
}

/// One card on the sheet.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// Which card.
    pub key: CardKey,
    /// When it was laid on the sheet.
    pub shown_at: Instant,
    /// For a why or a sequence: the order in which its links or steps lie ashore, by position from 1.
    pub ashore: Vec<usize>,
    /// How far it has come.
    pub stage: Stage,
}

/// How far the card on the sheet has come.
#[derive(Debug, Clone)]
pub enum Stage {
    /// The question stands; the clock runs.
    Asked,
    /// The answer is marked and may be accepted.
    Marked(Box<Marked>),
    /// A stubborn card: its points one by one. Parts shown so far.
    Remedy(usize),
}

/// A marked answer on the sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Marked {
    /// As given first.
    pub given: Given,
    /// Time taken until then.
    pub seconds: f64,
    /// The marking as it stands, after ticks.
    pub marking: Marking,
    /// What a typed answer was marked as, before the learner's ticks.
    pub read: Option<Marking>,
    /// The learner's correction.
    pub notch: Notch,
}

impl Session {
    /// A session at its first card.
    pub fn begin(watch: Watch, now: Instant) -> Self {
        Self { watch, sheet: None, began: now, slips: Vec::new(), seconds: 0.0 }
    }

    /// Lays the current card on the sheet. `shuffle` gives an order of `n` things, as positions from 1.
    pub fn lay(&mut self, card: Option<&Card>, now: Instant, shuffle: impl FnOnce(usize) -> Vec<usize>) {
        let turn = self.watch.current().map(|c| c.turn);
        self.sheet = match (card, turn) {
            (Some(card), Some(turn)) => Some(Sheet {
                key: card.key.clone(),
                shown_at: now,
                ashore: match &card.body {
                    Body::Why(why) => shuffle(why.links.len() + why.false_links.len()),
                    Body::Sequence(procedure) => shuffle(procedure.steps.len()),
                    _ => Vec::new(),
                },
                stage: if turn == Turn::Remedy { Stage::Remedy(0) } else { Stage::Asked },
            }),
            _ => None,
        };
    }
}

impl Sheet {
    /// Seconds since it was laid on the sheet, while the clock runs; the time taken once it is marked.
    pub fn seconds(&self, now: Instant) -> f64 {
        match &self.stage {
            Stage::Marked(marked) => marked.seconds,
            _ => ((now.0 - self.shown_at.0) as f64 / 1_000.0).clamp(0.0, LONGEST_SECONDS),
        }
    }

    /// Marks what was given.
    ///
    /// # Errors
    /// Where the answer's form does not fit the card.
    pub fn submit(&mut self, card: &Card, given: Given, now: Instant) -> Result<(), AnswerError> {
        if !matches!(self.stage, Stage::Asked) {
            return Ok(());
        }
        let seconds = self.seconds(now);
        let marking = mark(card, &Answer { given: given.clone(), seconds: Some(seconds) })?;
        let typed = matches!(given, Given::Text(_)) && matches!(marking.detail, Detail::Recall { .. });
        let read = typed.then(|| marking.clone());
        self.stage = Stage::Marked(Box::new(Marked { given, seconds, marking, read, notch: Notch::None }));
        Ok(())
    }

    /// Ticks a recall card's point (from 1) as said, or takes the tick away.
    ///
    /// # Errors
    /// Where the card has no such point.
    pub fn tick(&mut self, card: &Card, point: usize) -> Result<(), AnswerError> {
        let Stage::Marked(marked) = &mut self.stage else { return Ok(()) };
        let Detail::Recall { points } = &marked.marking.detail else { return Ok(()) };
        let mut said: Vec<usize> = (1..=points.len()).filter(|n| points[n - 1].said != (*n == point)).collect();
        if point == 0 || point > points.len() {
            said.retain(|n| *n != point);
        }
        let answer = Answer { given: Given::Said(said.clone()), seconds: Some(marked.seconds) };
        let mut marking = mark(card, &answer)?;
        match &marked.read {
            // Back to what was read from the typed words: their marking stands, contradictions and all.
            Some(read) if said == said_in(read) => marking = read.clone(),
            Some(read) => keep_evidence(&mut marking, read),
            None => marked.given = Given::Said(said),
        }
        marked.marking = marking;
        marked.notch = Notch::None;
        Ok(())
    }

    /// Moves the outcome by a notch; asking for the same notch again takes it away.
    pub fn set_notch(&mut self, notch: Notch) {
        if let Stage::Marked(marked) = &mut self.stage {
            let moved = marked.marking.outcome.notched(notch) != marked.marking.outcome;
            marked.notch = if marked.notch == notch || !moved { Notch::None } else { notch };
        }
    }
}

impl Marked {
    /// The outcome that will count.
    pub fn outcome(&self) -> Outcome {
        self.marking.outcome.notched(self.notch)
    }

    /// Numbers of the key points said and not said, for recall cards.
    pub fn points(&self) -> (Vec<usize>, Vec<usize>) {
        match &self.marking.detail {
            Detail::Recall { points } => (1..=points.len()).partition(|n| points[n - 1].said),
            _ => (Vec::new(), Vec::new()),
        }
    }
}

fn said_in(marking: &Marking) -> Vec<usize> {
    match &marking.detail {
        Detail::Recall { points } => (1..=points.len()).filter(|n| points[n - 1].said).collect(),
        _ => Vec::new(),
    }
}

/// Keeps the words that were found beside the points that still count.
fn keep_evidence(marking: &mut Marking, read: &Marking) {
    if let (Detail::Recall { points }, Detail::Recall { points: found }) = (&mut marking.detail, &read.detail) {
        for (point, found) in points.iter_mut().zip(found) {
            if point.said {
                point.evidence.clone_from(&found.evidence);
            }
        }
    }
}
