//! What a sitting is begun with: how questions are drawn, how the examiner asks, how answers are given.

use serde::{Deserialize, Serialize};

use super::blueprint::{Blueprint, Length};
use crate::domain::ids::CardKey;

/// How a sitting was set up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Setup {
    /// How questions are shared and marked.
    pub blueprint: Blueprint,
    /// How lead questions are drawn.
    pub draw: Draw,
    /// How the examiner asks.
    pub manner: Manner,
    /// What every draw is made from.
    pub seed: u64,
    /// Lead questions of the last sittings, which are avoided where others are left.
    pub recent: Vec<CardKey>,
}

/// How lead questions are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Draw {
    /// Without regard to what the learner knows, so that the mark is honest.
    #[default]
    Mock,
    /// For the weak areas.
    Coaching,
}

/// How the examiner asks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Manner {
    /// One follow-up at a time, and on to something else when the learner runs dry.
    #[default]
    Steady,
    /// More follow-ups, and less time.
    Pressing,
}

/// How an answer is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Way {
    /// Said aloud, and marked by the learner from the key points.
    Speak,
    /// Typed or set, and marked by the program.
    #[default]
    Write,
    /// Said aloud to a second person, who marks it.
    Second,
}

/// What a learner chooses before a sitting.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OralChoice {
    /// How lead questions are drawn.
    pub draw: Draw,
    /// How the examiner asks.
    pub manner: Manner,
    /// How long the sitting is.
    pub length: Length,
    /// How answers are given at first.
    pub way: Way,
}

impl Manner {
    /// The seconds that this examiner gives for an answer that ought to take so many, to five seconds: all of them, or
    /// seven tenths under pressure.
    pub(super) fn seconds(self, seconds: f64) -> f64 {
        match self {
            Manner::Steady => (seconds / 5.0).round() * 5.0,
            Manner::Pressing => (seconds * 0.7 / 5.0).round() * 5.0,
        }
    }
}
