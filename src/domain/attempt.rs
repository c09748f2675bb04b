//! One answered card: the evidence, the outcome, the time. Attempts are only ever added, and everything
//! about learning derives from them.

use serde::{Deserialize, Serialize};

use crate::domain::answer::Given;
use crate::domain::day::{Instant, ShipOffset, StudyDay};
use crate::domain::ids::{AttemptId, CardKey};
use crate::domain::outcome::{Notch, Outcome};

/// One answered card.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Attempt {
    /// Ordered by time and unique across machines.
    pub id: AttemptId,
    /// Which card.
    pub card: CardKey,
    /// When it was accepted, UTC milliseconds.
    pub at: Instant,
    /// Ship's time then, minutes east of UTC.
    pub ship: ShipOffset,
    /// The computer it was made on.
    pub device: String,
    /// What the outcome was worked out from.
    pub evidence: Evidence,
    /// As worked out from the evidence.
    pub outcome: Outcome,
    /// The learner's own correction.
    pub notch: Notch,
    /// Time taken, in seconds.
    pub seconds: f64,
}

/// What an outcome was worked out from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Evidence {
    /// The answer as given.
    #[serde(flatten)]
    pub given: Given,
    /// The deck's edition at the time.
    pub edition: u32,
    /// Numbers of the key points that counted as said in the end, for recall cards: those found in a typed
    /// answer, with the learner's corrections.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub points_said: Vec<usize>,
    /// Numbers of the key points that did not count as said, for recall cards.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub points_missed: Vec<usize>,
}

/// A card left out of the watch, or taken back: an event of its own, only ever added.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SetAside {
    /// Which card.
    pub card: CardKey,
    /// When.
    pub at: Instant,
    /// What happened.
    pub until: Until,
}

/// How long a card stays out of the watch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Until {
    /// For good.
    ForGood,
    /// Until this study day begins.
    Day(StudyDay),
    /// Back in the watch.
    Back,
}

impl Attempt {
    /// The outcome that counts for memory: the worked-out one with the learner's notch.
    pub fn final_outcome(&self) -> Outcome {
        self.outcome.notched(self.notch)
    }

    /// The study day it belongs to.
    pub fn day(&self) -> StudyDay {
        self.at.study_day(self.ship)
    }
}
