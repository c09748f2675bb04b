//! What a learner's answers so far say: the evidence, the course of each competence over the last weeks, the points
//! missed most, and the time spent.

use std::collections::HashMap;

use super::belief::Belief;
use super::calibration::Calibration;
use super::enough::{Chance, Coverage};
use super::evidence::{EvidenceReader, Sitting};
use super::exam::Exam;
use super::pool::functions;
use super::range::chance_range;
use crate::domain::attempt::Attempt;
use crate::domain::card::Card;
use crate::domain::day::StudyDay;
use crate::domain::ids::CardKey;
use crate::domain::memory::model::Model;
use crate::domain::oral::{Blueprint, function_of};

/// Weeks that a trend goes back.
pub const WEEKS: usize = 8;

/// Answers, with the time that they took.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Answering {
    /// How many answers.
    pub answers: usize,
    /// Seconds of answering.
    pub seconds: f64,
}

impl Answering {
    fn add(&mut self, attempt: &Attempt) {
        self.answers += 1;
        self.seconds += attempt.seconds;
    }
}

/// A key point that was missed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PointMisses {
    /// Which point of its card, from 1.
    pub point: usize,
    /// How often.
    pub times: u32,
}

/// A learner's answers, taken in one after the other in the order of time.
#[derive(Debug, Clone, Default)]
pub struct History {
    learning: EvidenceReader,
    /// Topic and weight of what trends are told of.
    topics: HashMap<CardKey, (String, u8)>,
    /// Ends of weeks that are still to come, the nearest last.
    weeks: Vec<StudyDay>,
    trends: HashMap<String, Vec<Option<f64>>>,
    missed: HashMap<CardKey, HashMap<usize, u32>>,
    by_week: Vec<Answering>,
    whole: Answering,
}

impl History {
    /// Before any answer: evidence will be read for an oral by `blueprint` from `cards`, and of these sittings.
    pub fn of<'a>(
        blueprint: &Blueprint,
        cards: impl IntoIterator<Item = &'a Card>,
        sittings: impl IntoIterator<Item = Sitting>,
    ) -> Self {
        let numbers = functions(blueprint);
        let of_oral = cards.into_iter().filter(|card| blueprint.weight_of(&card.topic) > 0.0);
        let functions = of_oral.filter_map(|card| {
            let number = numbers.iter().position(|key| *key == function_of(&card.topic))?;
            Some((card.key.clone(), number))
        });
        let sittings = sittings.into_iter().collect();
        Self { learning: EvidenceReader::of(functions.collect(), numbers.len(), sittings), ..Self::default() }
    }

    /// Has the trend of each competence told over the eight weeks up to `today`. `topics` gives the competence and the
    /// weight of all that is asked.
    pub fn with_trends(mut self, topics: impl IntoIterator<Item = (CardKey, (String, u8))>, today: StudyDay) -> Self {
        self.topics = topics.into_iter().collect();
        self.weeks = (0..WEEKS as i32).map(|week| StudyDay(today.0 - 7 * week)).collect();
        self.by_week = vec![Answering::default(); WEEKS];
        self
    }

    /// Notes what is recalled at the end of each week before `day`.
    pub(super) fn pass_weeks(&mut self, day: StudyDay, model: &Model) {
        while self.weeks.last().is_some_and(|end| *end < day) {
            let Some(end) = self.weeks.pop() else { break };
            let mut sums: HashMap<&str, (f64, f64)> = HashMap::new();
            for (key, memory) in self.learning.memory() {
                let Some((topic, weight)) = self.topics.get(key) else { continue };
                let sum = sums.entry(topic).or_default();
                let weight = f64::from(*weight);
                *sum = (sum.0 + weight * model.known(memory, end), sum.1 + weight);
            }
            let passed = WEEKS - self.weeks.len();
            for (topic, (sum, of)) in sums {
                let trend = self.trends.entry(topic.to_owned()).or_default();
                trend.resize(passed - 1, None);
                trend.push(Some(sum / of));
            }
        }
    }

    /// Takes in an attempt, in the order of time.
    pub fn take_in(&mut self, attempt: &Attempt, model: &Model) {
        self.take_in_as(attempt, model, true);
    }

    /// Takes in the first answer to a card that asks something else than before: nothing was foreseen of it.
    pub fn take_in_changed(&mut self, attempt: &Attempt, model: &Model) {
        self.take_in_as(attempt, model, false);
    }

    fn take_in_as(&mut self, attempt: &Attempt, model: &Model, foreseen: bool) {
        self.pass_weeks(attempt.day(), model);
        for point in &attempt.evidence.points_missed {
            *self.missed.entry(attempt.card.clone()).or_default().entry(*point).or_default() += 1;
        }
        self.whole.add(attempt);
        let week = WEEKS - self.weeks.len();
        if let Some(of_week) = self.by_week.get_mut(week)
            && self.weeks.last().is_some_and(|end| attempt.day().0 > end.0 - 7)
        {
            of_week.add(attempt);
        }
        self.learning.take_in(attempt, model, foreseen);
    }

    /// How recall was predicted in watches, and in orals.
    pub(super) fn fits(&self) -> [Option<Calibration>; 2] {
        self.learning.seen().map(Calibration::of)
    }

    /// By card, points with how often they were missed, the most missed first.
    pub(super) fn missed_most(&self) -> HashMap<CardKey, Vec<PointMisses>> {
        let missed = self.missed.iter().map(|(key, points)| {
            let of = |(point, times): (&usize, &u32)| PointMisses { point: *point, times: *times };
            let mut points: Vec<PointMisses> = points.iter().map(of).collect();
            points.sort_by_key(|missed| (std::cmp::Reverse(missed.times), missed.point));
            (key.clone(), points)
        });
        missed.collect()
    }

    /// By competence, recall at the end of each week that has passed, the oldest first.
    pub(super) fn trends(&self) -> HashMap<String, Vec<Option<f64>>> {
        self.trends.clone()
    }

    /// Answers of each of the last eight weeks, the oldest first.
    pub(super) fn by_week(&self) -> &[Answering] {
        &self.by_week
    }

    /// All answers.
    pub(super) fn whole(&self) -> Answering {
        self.whole
    }

    /// What is believed of the learner on a day.
    pub fn belief(&self, day: StudyDay) -> Belief {
        Belief::of(self.learning.evidence(), day)
    }

    /// How much of the oral has been answered.
    pub fn coverage(&self) -> Coverage {
        self.learning.coverage()
    }

    /// The chance of passing `exam` on its day, as it may be said.
    pub fn chance(&self, exam: &Exam, day: StudyDay) -> Chance {
        match self.coverage().needs(exam) {
            Some(needs) => Chance::NotYet(needs),
            None => self.coverage().say(exam, chance_range(exam, &self.belief(day))),
        }
    }
}
