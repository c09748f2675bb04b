//! A card on its sheet, from the question to the marked answer. What only one kind has there is done in `kinds`.

use super::after::{AfterCheck, AfterRun};
use super::desk::AtWork;
use crate::domain::answer::Given;
use crate::domain::card::Card;
use crate::domain::day::Instant;
use crate::domain::ids::CardKey;
use crate::domain::marking::Marking;
use crate::domain::outcome::{Notch, Outcome};

/// The longest time that counts for one answer, in seconds.
const LONGEST_SECONDS: f64 = 1_800.0;

/// One card on the sheet.
#[derive(Debug, Clone)]
pub struct AnswerSheet {
    /// Which card.
    pub key: CardKey,
    /// When it was laid on the sheet.
    pub shown_at: Instant,
    /// The order in which a why's links or a sequence's steps lie before they are used, or a point's parts are told, by
    /// position from 1.
    pub shuffled: Vec<usize>,
    /// How far it has come.
    pub stage: Stage,
    /// A typed answer that is being read before it is marked: while there is one, the question takes no other.
    pub handed: Option<HandedIn>,
    /// For a sequence: what follows its first run.
    pub sequence: AfterRun,
    /// For a line-up: what follows its first check.
    pub lineup: AfterCheck,
    /// A question about the run stands on the sheet before the card itself.
    pub explaining: Option<Explaining>,
    /// For a working: its figures, the learner's lines, its tries.
    pub work: Option<Box<AtWork>>,
}

/// A typed answer that was handed in and is being read.
#[derive(Debug, Clone, PartialEq)]
pub struct HandedIn {
    /// The number under which its reading will come.
    pub number: u64,
    /// What was given.
    pub given: Given,
    /// Time taken until then.
    pub seconds: f64,
}

/// A question about what happened in a run: a why of its own.
#[derive(Debug, Clone)]
pub struct Explaining {
    /// As a card, under a key of its own beside the sequence's.
    pub card: Card,
    /// The sheet that it is answered on.
    pub sheet: Box<AnswerSheet>,
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
    /// Points (from 1) of which it was not sure whether they are said, and the learner has said so.
    pub settled: Vec<usize>,
    /// The learner's correction.
    pub notch: Notch,
}

impl AnswerSheet {
    /// Seconds since it was laid on the sheet, while the clock runs; the time taken once it is marked.
    pub fn seconds(&self, now: Instant) -> f64 {
        match (&self.stage, &self.handed) {
            (Stage::Marked(marked), _) => marked.seconds + self.again(now),
            (_, Some(handed)) => handed.seconds,
            _ => ((now.0 - self.shown_at.0) as f64 / 1_000.0).clamp(0.0, LONGEST_SECONDS),
        }
    }

    /// Seconds of a second try that is being worked.
    fn again(&self, now: Instant) -> f64 {
        let since = self.work.as_ref().filter(|w| w.practice.is_none()).and_then(|w| w.again);
        since.map_or(0.0, |since| ((now.0 - since.0) as f64 / 1_000.0).clamp(0.0, LONGEST_SECONDS))
    }

    /// Whether the clock runs: the question stands, or a second try is being worked.
    pub fn clock_runs(&self) -> bool {
        match (&self.stage, &self.work) {
            (Stage::Asked, _) => self.handed.is_none(),
            (Stage::Marked(_), Some(work)) => work.again.is_some() && work.practice.is_none(),
            _ => false,
        }
    }

    /// What stands in front: the question about a run while there is one, otherwise the card itself.
    pub fn front<'a>(&'a self, card: &'a Card) -> (&'a Card, &'a AnswerSheet) {
        match &self.explaining {
            Some(about) => (&about.card, &about.sheet),
            None => (card, self),
        }
    }

    /// What stands in front, to be changed.
    pub fn front_mut<'a>(&'a mut self, card: &'a Card) -> (&'a Card, &'a mut AnswerSheet) {
        match self.explaining {
            Some(ref mut about) => (&about.card, &mut about.sheet),
            None => (card, self),
        }
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
    /// An answer as it is first marked.
    pub(super) fn of(given: Given, seconds: f64, marking: Marking, read: Option<Marking>) -> Self {
        Self { given, seconds, marking, read, settled: Vec::new(), notch: Notch::None }
    }

    /// The outcome that will count.
    pub fn outcome(&self) -> Outcome {
        self.marking.outcome.notched(self.notch)
    }

    /// Numbers of the key points said and not said, for recall cards.
    pub fn points(&self) -> (Vec<usize>, Vec<usize>) {
        let points = self.marking.detail.points().unwrap_or_default();
        (1..=points.len()).partition(|n| points[n - 1].said)
    }
}
