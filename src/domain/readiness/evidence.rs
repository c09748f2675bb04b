//! What a learner's answers are evidence of: reviews in watches, first answers, and the lead questions of mock orals.

use std::collections::{HashMap, HashSet};

use super::enough::Coverage;
use crate::domain::attempt::Attempt;
use crate::domain::day::{Instant, StudyDay};
use crate::domain::ids::CardKey;
use crate::domain::memory::CardMemory;
use crate::domain::memory::model::Model;
use crate::domain::outcome::Outcome;

/// So many of the latest reviews of a function say how far forecasts lie off.
const MOST_REVIEWS: usize = 400;
/// So many of the latest sittings are gone by.
const MOST_SITTINGS: usize = 4;
/// A sitting counts as a finished mock oral where it has ended and at least so much of its lead questions was answered.
const FINISHED: f64 = 0.5;

/// An answer with the chance that was forecast for it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// The forecast, 0 to 1.
    pub forecast: f64,
    /// Whether it was answered well.
    pub well: bool,
}

/// First answers, in watches, to cards never met before.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Firsts {
    /// First answers that were right.
    pub well: usize,
    /// First answers.
    pub of: usize,
}

/// A lead question of a sitting.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Asked {
    /// The card's function, by the caller's own numbers.
    pub function: usize,
    /// The chance that was forecast for it; none for a card never met before.
    pub forecast: Option<f64>,
    /// Whether its marks reached the pass mark, and no safety-critical point stayed missing.
    pub well: bool,
    /// Whether a safety-critical point stayed missing; none where it was answered well or has none.
    pub fatal: Option<bool>,
}

/// What a lead question of a sitting came to.
#[derive(Debug, Clone, PartialEq)]
pub struct LeadMark {
    /// The card asked.
    pub card: CardKey,
    /// The marks of its points reached the pass mark, prompts and follow-ups counted as in the verdict.
    pub passes: bool,
    /// Whether the card has safety-critical points.
    pub has_critical: bool,
    /// One of them stayed missing, even after a prompt.
    pub fatal: bool,
}

/// The lead questions of one sitting.
#[derive(Debug, Clone, PartialEq)]
pub struct Sat {
    /// The day of the sitting.
    pub day: StudyDay,
    /// In the order of asking.
    pub questions: Vec<Asked>,
    /// Whether the sitting ended, with at least half of its lead questions answered.
    pub finished: bool,
}

/// All evidence.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Evidence {
    /// For each function, reviews in watches of cards met on an earlier day, the latest last.
    pub reviews: Vec<Vec<Seen>>,
    /// For each function, first answers.
    pub firsts: Vec<Firsts>,
    /// Sittings in the order of time.
    pub sittings: Vec<Sat>,
}

/// A sitting whose lead questions are yet to be found among the attempts.
#[derive(Debug, Clone, PartialEq)]
pub struct Sitting {
    /// When it began.
    pub from: Instant,
    /// When it ended, or is taken to have.
    pub to: Instant,
    /// The sitting's study day.
    pub day: StudyDay,
    /// Whether the sitting is over.
    pub ended: bool,
    /// How many lead questions it was to have.
    pub leads: usize,
    /// What the lead questions came to.
    pub marks: Vec<LeadMark>,
}

/// Attempts, taken in one after the other in the order of time, become evidence.
#[derive(Debug, Clone, Default)]
pub struct EvidenceReader {
    memory: HashMap<CardKey, CardMemory>,
    functions: HashMap<CardKey, usize>,
    answered: Vec<HashSet<CardKey>>,
    sittings: Vec<Sitting>,
    evidence: Evidence,
    orals: Vec<Seen>,
    watches: Vec<Seen>,
}

impl Evidence {
    /// No evidence, over so many functions.
    pub fn none(functions: usize) -> Self {
        Self { reviews: vec![Vec::new(); functions], firsts: vec![Firsts::default(); functions], sittings: Vec::new() }
    }

    /// How many functions it is over.
    pub fn functions(&self) -> usize {
        self.firsts.len().max(self.reviews.len())
    }

    /// The latest reviews of a function.
    pub(super) fn latest(&self, function: usize) -> &[Seen] {
        let reviews = self.reviews.get(function).map_or(&[][..], Vec::as_slice);
        &reviews[reviews.len().saturating_sub(MOST_REVIEWS)..]
    }

    /// The latest sittings in which something was asked.
    pub(super) fn recent(&self) -> Vec<&Sat> {
        let mut recent: Vec<&Sat> =
            self.sittings.iter().rev().filter(|sat| !sat.questions.is_empty()).take(MOST_SITTINGS).collect();
        recent.reverse();
        recent
    }
}

impl EvidenceReader {
    /// Before any answer: `functions` says which function (from 0 to below `count`) a card that may be asked in the oral
    /// belongs to; other cards are evidence of nothing here.
    pub fn of(functions: HashMap<CardKey, usize>, count: usize, sittings: Vec<Sitting>) -> Self {
        let sats = sittings.iter().map(|sitting| Sat {
            day: sitting.day,
            questions: Vec::new(),
            finished: sitting.ended && sitting.marks.len() as f64 >= FINISHED * sitting.leads.max(1) as f64,
        });
        Self {
            evidence: Evidence { sittings: sats.collect(), ..Evidence::none(count) },
            answered: vec![HashSet::new(); count],
            functions,
            sittings,
            ..Self::default()
        }
    }

    /// Takes in an attempt, in the order of time. Where nothing was `foreseen` of it, because its card asked something
    /// else than before, it is no evidence of how good forecasts are.
    pub fn take_in(&mut self, attempt: &Attempt, model: &Model, foreseen: bool) {
        let before = self.memory.get(&attempt.card);
        let same_day = before.is_some_and(|memory| memory.last_day == attempt.day());
        let forecast = before.filter(|_| foreseen).map(|memory| match same_day {
            // The model counts whole days: minutes later, the last answer says more.
            true => model.known(memory, attempt.day()),
            false => model.recall(memory, attempt.day()),
        });
        let well = attempt.final_outcome() >= Outcome::Prompted;
        let function = self.functions.get(&attempt.card).copied();
        let at = self.sittings.iter().position(|sitting| {
            (sitting.from.0..=sitting.to.0).contains(&attempt.at.0)
                && sitting.marks.iter().any(|mark| mark.card == attempt.card)
        });
        if let Some(of) = function.and_then(|function| self.answered.get_mut(function)) {
            of.insert(attempt.card.clone());
        }
        let counts = (!same_day).then_some(forecast).flatten().map(|forecast| Seen { forecast, well });
        match (at, function) {
            (Some(at), function) => {
                self.orals.extend(counts);
                let mark = self.sittings[at].marks.iter().find(|mark| mark.card == attempt.card);
                if let (Some(function), Some(mark)) = (function, mark) {
                    let well = mark.passes && !mark.fatal;
                    let fatal = (!well && mark.has_critical).then_some(mark.fatal);
                    let asked = Asked { function, forecast, well, fatal };
                    self.evidence.sittings[at].questions.push(asked);
                }
            }
            (None, function) => {
                self.watches.extend(counts);
                match (function, counts) {
                    (Some(function), Some(seen)) => self.evidence.reviews[function].push(seen),
                    (Some(function), None) if before.is_none() => {
                        let firsts = &mut self.evidence.firsts[function];
                        (firsts.of, firsts.well) = (firsts.of + 1, firsts.well + usize::from(well));
                    }
                    _ => {}
                }
            }
        }
        let next = model.after(before, attempt);
        self.memory.insert(attempt.card.clone(), next);
    }

    /// What is known of each card so far.
    pub fn memory(&self) -> &HashMap<CardKey, CardMemory> {
        &self.memory
    }

    /// The evidence so far.
    pub fn evidence(&self) -> &Evidence {
        &self.evidence
    }

    /// Forecasts of recall with what came, in watches and in orals, of all cards asked again on a later day.
    pub fn seen(&self) -> [&[Seen]; 2] {
        [&self.watches, &self.orals]
    }

    /// How much of the oral has been answered so far.
    pub fn coverage(&self) -> Coverage {
        Coverage {
            by_function: self.answered.iter().map(HashSet::len).collect(),
            orals: self.evidence.sittings.iter().filter(|sat| sat.finished).count(),
        }
    }
}
