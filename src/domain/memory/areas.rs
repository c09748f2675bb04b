//! Areas of a learner's knowledge: a deck's headings, with recall today.

use std::collections::BTreeMap;

use crate::domain::day::StudyDay;
use crate::domain::memory::CardMemory;
use crate::domain::memory::model::Model;
use crate::domain::outcome::Outcome;

/// One area.
#[derive(Debug, Clone, PartialEq)]
pub struct Area {
    /// Its name.
    pub name: String,
    /// Recall today over the cards met, weighted by importance, 0 to 1.
    pub recall: f64,
    /// Cards met.
    pub met: usize,
    /// Cards whose last attempt was missed.
    pub slipped: usize,
}

/// One card that has been met: its area, weight and memory.
pub type Met<'a> = (&'a str, u8, &'a CardMemory);

/// The areas that have been met, weakest recall first; equal ones by name.
pub fn areas<'a>(cards: impl Iterator<Item = Met<'a>>, today: StudyDay, model: &Model) -> Vec<Area> {
    let mut sums: BTreeMap<&str, (f64, f64, usize, usize)> = BTreeMap::new();
    for (name, weight, memory) in cards {
        let sum = sums.entry(name).or_default();
        let weight = f64::from(weight.max(1));
        sum.0 += weight * model.known(memory, today);
        sum.1 += weight;
        sum.2 += 1;
        sum.3 += usize::from(memory.last == Outcome::Missed);
    }
    let mut areas: Vec<Area> = sums
        .into_iter()
        .map(|(name, (recall, weight, met, slipped))| Area {
            name: name.to_owned(),
            recall: recall / weight,
            met,
            slipped,
        })
        .collect();
    areas.sort_by(|a, b| a.recall.total_cmp(&b.recall).then_with(|| a.name.cmp(&b.name)));
    areas
}
