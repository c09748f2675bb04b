//! The outlook of a learner: the chance of passing, what lowers it, and how the weeks so far went.

use std::collections::HashMap;

use super::belief::Belief;
use super::calibration::Calibration;
use super::enough::Chance;
use super::exam::Exam;
use super::history::{Answering, History, PointMisses};
use super::pool::Pool;
use super::range::area_costs;
use crate::domain::day::StudyDay;
use crate::domain::ids::CardKey;
use crate::domain::memory::model::Model;

/// An area is mended to this recall when it is asked what it costs.
pub const MENDED: f64 = 0.85;

/// What a competence that is weak costs.
#[derive(Debug, Clone, PartialEq)]
pub struct CompetenceCost {
    /// The competence's key.
    pub competence: String,
    /// By how much the chance of passing would rise if it were mended, 0 to 1.
    pub cost: f64,
}

/// What competences cost in an oral, the dearest first; `areas` gives their keys by area number.
pub fn competence_costs(exam: &Exam, belief: &Belief, areas: &[String]) -> Vec<CompetenceCost> {
    let costs = area_costs(exam, belief, areas.len(), MENDED);
    costs.into_iter().map(|of| CompetenceCost { competence: areas[of.area].clone(), cost: of.cost }).collect()
}

/// Where a learner stands, by all answers so far.
#[derive(Debug, Clone, PartialEq)]
pub struct Outlook {
    /// The chance if the oral were today.
    pub today: Chance,
    /// The chance on its day, by what is known today; none without a date.
    pub on_day: Option<Chance>,
    /// What competences cost, the dearest first; empty while no chance may be said.
    pub costs: Vec<CompetenceCost>,
    /// Cards that may be asked and were never met.
    pub unseen: usize,
    /// Cards that may be asked.
    pub cards: usize,
    /// How recall was predicted in watches, and in orals.
    pub fits: [Option<Calibration>; 2],
    /// By competence: recall at the end of each of the last eight weeks, the oldest first; none before anything was met.
    pub trends: HashMap<String, Vec<Option<f64>>>,
    /// By card, the points that were missed, the most missed first.
    pub missed: HashMap<CardKey, Vec<PointMisses>>,
    /// Answers of each of the last eight weeks, the oldest first.
    pub by_week: Vec<Answering>,
    /// All answers.
    pub whole: Answering,
}

impl Outlook {
    /// Worked out from the oral as it would be drawn today and, where there is one ahead, on its day.
    pub fn of(today: &Pool, on_day: Option<&Pool>, mut history: History, model: &Model) -> Self {
        // What is left of the weeks up to today passes without an answer.
        history.pass_weeks(StudyDay(i32::MAX), model);
        let chance = |pool: &Pool| history.chance(&pool.exam, pool.day);
        let later = on_day.unwrap_or(today);
        let (now, then) = (chance(today), on_day.map(chance));
        let costs = match then.unwrap_or(now) {
            Chance::Said(_) => competence_costs(&later.exam, &history.belief(later.day), &later.areas),
            Chance::NotYet(_) => Vec::new(),
        };
        let items = || today.exam.parts.iter().flat_map(|part| &part.pool);
        Self {
            today: now,
            on_day: then,
            costs,
            unseen: items().filter(|item| item.unseen).count(),
            cards: items().count(),
            fits: history.fits(),
            missed: history.missed_most(),
            trends: history.trends(),
            by_week: history.by_week().to_vec(),
            whole: history.whole(),
        }
    }
}
