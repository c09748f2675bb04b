//! What a sequence card defines: facts, steps, reflexes and a goal. Immutable once read; facts and steps are meant
//! by their position.

use serde::{Deserialize, Serialize};

use super::facts::Facts;

/// A procedure may have this many facts.
pub const MOST_FACTS: usize = 256;
/// A procedure may have this many steps, traps among them.
pub const MOST_STEPS: usize = 64;
/// A procedure may have this many reflexes.
pub const MOST_REFLEXES: usize = 64;

/// A plant and the steps that may be done on it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Procedure {
    /// At most [`MOST_FACTS`].
    pub facts: Vec<Fact>,
    /// Exactly these hold at the start, before any reflex.
    pub start: Facts,
    /// What must hold at the end.
    pub goal: Vec<Need>,
    /// In the order of the file, at most [`MOST_STEPS`].
    pub steps: Vec<Step>,
    /// In the order of the file, at most [`MOST_REFLEXES`].
    pub reflexes: Vec<Reflex>,
    /// The deck says that one order alone is meant.
    pub strict: bool,
}

/// Something about the plant that is true or false.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fact {
    /// Key of the fact in the deck.
    pub key: String,
    /// Name of the fact for people.
    pub name: String,
}

/// A fact that must hold, or must not.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Need {
    /// Which fact.
    pub fact: usize,
    /// False for `!fact`.
    pub holds: bool,
}

/// Something the learner may do.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Step {
    /// Key of the step in the deck.
    pub key: String,
    /// The order in words.
    pub say: String,
    /// What must be so before it can be done.
    pub needs: Vec<Need>,
    /// Facts that it makes true, after `takes`.
    pub gives: Vec<usize>,
    /// Facts that it makes false.
    pub takes: Vec<usize>,
    /// What happens if it is done too early.
    pub faults: Vec<Fault>,
    /// Set where the step is never part of a right answer.
    pub trap: Option<Trap>,
}

/// What happens when a step is done with a need unmet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// The need.
    pub without: Need,
    /// How bad it is.
    pub severity: Severity,
    /// What happens, in words.
    pub tell: Option<String>,
}

/// Why a step is never part of a right answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trap {
    /// How bad it is.
    pub severity: Severity,
    /// What happens, in words.
    pub tell: Option<String>,
}

/// What the plant does by itself as soon as `when` holds.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Reflex {
    /// All of these.
    pub when: Vec<Need>,
    /// Facts that it makes true, after `takes`.
    pub gives: Vec<usize>,
    /// Facts that it makes false.
    pub takes: Vec<usize>,
    /// What it does, in words.
    pub tell: Option<String>,
}

/// How bad a wrong step is, from nothing at all to people hurt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// Nothing happens.
    NoEffect,
    /// Something trips.
    Trip,
    /// The plant is damaged.
    Damage,
    /// People are hurt.
    Injury,
}

impl Severity {
    /// All four, from least to worst.
    pub const ALL: [Severity; 4] = [Severity::NoEffect, Severity::Trip, Severity::Damage, Severity::Injury];

    /// The word in deck files and in markings.
    pub fn word(self) -> &'static str {
        match self {
            Severity::NoEffect => "no-effect",
            Severity::Trip => "trip",
            Severity::Damage => "damage",
            Severity::Injury => "injury",
        }
    }

    /// Whether it makes an answer missed whatever else is right.
    pub fn is_grave(self) -> bool {
        self >= Severity::Damage
    }
}

impl Need {
    /// A need that the fact holds.
    pub fn on(fact: usize) -> Self {
        Self { fact, holds: true }
    }

    /// A need that the fact does not hold.
    pub fn off(fact: usize) -> Self {
        Self { fact, holds: false }
    }

    /// Whether it is met.
    pub fn is_met(self, facts: &Facts) -> bool {
        facts.has(self.fact) == self.holds
    }
}

impl Procedure {
    /// The need as a deck writes it: the fact's key, with `!` before it where it must not hold.
    pub fn written(&self, need: Need) -> String {
        let key = self.facts.get(need.fact).map_or("", |fact| fact.key.as_str());
        if need.holds { key.to_owned() } else { format!("!{key}") }
    }

    /// The fact's name; empty for a fact that there is not.
    pub fn name(&self, fact: usize) -> &str {
        self.facts.get(fact).map_or("", |fact| fact.name.as_str())
    }

    /// The step of this key.
    pub fn step_of(&self, key: &str) -> Option<usize> {
        self.steps.iter().position(|step| step.key == key)
    }

    /// Positions of the steps that are no traps.
    pub fn right_steps(&self) -> impl Iterator<Item = usize> + '_ {
        (0..self.steps.len()).filter(|at| self.steps[*at].trap.is_none())
    }

    /// Positions of the traps.
    pub fn traps(&self) -> impl Iterator<Item = usize> + '_ {
        (0..self.steps.len()).filter(|at| self.steps[*at].trap.is_some())
    }

    /// Whether the goal holds.
    pub fn reaches_goal(&self, facts: &Facts) -> bool {
        self.goal.iter().all(|need| need.is_met(facts))
    }
}
