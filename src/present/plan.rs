//! The plan to the oral as data to draw.

use crate::domain::day::StudyDay;
use crate::present::block::TitleBlock;
use crate::present::competence::CostRow;

/// The plan's page.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanView {
    /// What stands on it.
    pub state: PlanState,
    /// Today.
    pub today: StudyDay,
    /// The day of the oral.
    pub oral: Option<StudyDay>,
    /// Minutes a day, as tried or as set.
    pub minutes: u32,
    /// The recall target of the settings, 0.70 to 0.99.
    pub recall_target: f64,
    /// The title block.
    pub block: TitleBlock,
}

/// What stands on the plan's page.
#[derive(Debug, Clone, PartialEq)]
pub enum PlanState {
    /// The oral is past, and what came of it has not been told: its date in words.
    Over(String),
    /// No date: steady upkeep.
    Upkeep {
        /// What that means, in sentences.
        sentence: String,
        /// What came of orals so far, a line each.
        results: Vec<String>,
    },
    /// Being worked out, 0 to 1.
    Working(f64),
    /// Stopped before it was worked out.
    Stopped,
    /// Worked out.
    Ready(Box<ReadyPlan>),
}

/// The chance of passing on a day, 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChancePoint {
    /// Days from today.
    pub in_days: u32,
    /// The chance is less than this one time in twenty.
    pub low: f64,
    /// The mean of what is believed.
    pub middle: f64,
    /// The chance is more than this one time in twenty.
    pub high: f64,
}

/// A day that has its name along the axis.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tick {
    /// Days from today.
    pub in_days: u32,
    /// `3 Apr`.
    pub name: String,
}

/// A plan.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadyPlan {
    /// Days from today to the oral.
    pub days: u32,
    /// `oral, 21 April`.
    pub oral: String,
    /// The chance on days from today to the oral, in their order; empty while none may be said.
    pub chance: Vec<ChancePoint>,
    /// `71–83 %`; none while too little has been answered to say one.
    pub range: Option<String>,
    /// `on 21 April, if you do every watch`; without a range, what is missing.
    pub when: String,
    /// `if you sat it today, 40–48 %`; none while it may not be said.
    pub today: Option<String>,
    /// Minutes of each day.
    pub load: Vec<f64>,
    /// Minutes a day that are given.
    pub given: u32,
    /// Days from today with their names along the axis.
    pub ticks: Vec<Tick>,
    /// The competences that lower it most, each with a cost such as `−9`.
    pub costs: Vec<CostRow>,
    /// `40 minutes would make it 76–87 %.`
    pub more: String,
    /// Time is short: by how much, and what is left out.
    pub short: Option<String>,
    /// How it is made, in a sentence.
    pub made: String,
    /// Whether this is the plan that is kept.
    pub kept: bool,
}
