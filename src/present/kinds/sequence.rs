//! A sequence as data to draw: the steps to be put in order, and a procedure that was run against the plant.
//!
//! Everything that a face says of a run stands here in words, so that the window and the terminal say the same.

use crate::domain::plant::{Procedure, Proof};
use crate::present::words;

/// What is shown while a card of this kind is asked.
pub type Asked = SequenceAskedView;

/// What is shown of a card of this kind once it is marked.
pub type Marked = SequenceRunView;

/// A sequence that is asked.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct SequenceAskedView {
    /// What is shown of the plant while the list is made: a handful, what holds first, then what is aimed at.
    pub facts: Vec<FactView>,
    /// Every step in the random order in which it lies ashore, traps among them.
    pub steps: Vec<StepView>,
}

/// Something about the plant that is so or is not so.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FactView {
    /// Key of the fact in the deck.
    pub key: String,
    /// Name of the fact: `Emergency switchboard live`.
    pub name: String,
    /// Whether it holds.
    pub holds: bool,
}

/// A step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepView {
    /// Key of the step in the deck: what `Given::Steps` holds.
    pub key: String,
    /// Words of the step.
    pub words: String,
}

/// A procedure that was run.
#[derive(Debug, Clone, PartialEq)]
pub struct SequenceRunView {
    /// As it is asked: for mending the list.
    pub asked: SequenceAskedView,
    /// Which run it is, from 1. The first one counts.
    pub run: usize,
    /// The column of facts, as they hold before the first line.
    pub facts: Vec<FactView>,
    /// What the plant did by itself before the first line.
    pub begun: Vec<ReflexView>,
    /// The learner's list.
    pub lines: Vec<RunLine>,
    /// What went wrong, in the order of the list. The sheet breaks at the first; nothing after its line is shown as run.
    pub failures: Vec<FailureView>,
    /// What of the goal does not hold at the end, and what would bring it about; empty where the goal is reached.
    pub unmet: Vec<MissingView>,
    /// A right order, once it was asked for.
    pub right_order: Option<RightOrder>,
    /// The program can ask why something happened in this run.
    pub explain: bool,
}

/// A line of the procedure that was run.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RunLine {
    /// The step's key.
    pub key: String,
    /// Words of the step.
    pub words: String,
    /// How it went.
    pub how: How,
    /// What the step itself changed.
    pub effects: Vec<EffectView>,
    /// What the plant then did by itself, in order.
    pub reflexes: Vec<ReflexView>,
    /// Whether each fact of the column holds after this line, in the column's order.
    pub facts_after: Vec<bool>,
}

/// How a line went.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum How {
    /// The step did its work.
    Done,
    /// The step could not be done: a need was not met.
    Broken,
    /// The step is never part of a right answer.
    Trap,
    /// The line stands after the first failure.
    NotRun,
}

/// A fact that changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EffectView {
    /// The fact's name.
    pub name: String,
    /// Whether the fact holds now, or does no longer.
    pub holds: bool,
}

/// What the plant did by itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReflexView {
    /// In a sentence: `The engine’s own pump has taken over; the electric one stops.`
    pub tell: String,
    /// What it changed.
    pub effects: Vec<EffectView>,
}

/// How bad a wrong step is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
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

/// A line that went wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FailureView {
    /// Number of the line in the list, from 1.
    pub line: usize,
    /// What happened: `The compressor runs hot: no cooling water.`
    pub cause: String,
    /// How bad that is.
    pub severity: Severity,
    /// Every need that was not met; empty for a trap.
    pub missing: Vec<MissingView>,
}

/// A need that was not met, and what there is to say about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MissingView {
    /// The fact's key, by which the column of facts marks it.
    pub key: String,
    /// The fact's name.
    pub name: String,
    /// The need is that it does not hold.
    pub must_not: bool,
    /// The line (from 1) that undid it earlier in this run, where one did.
    pub undone_at: Option<usize>,
    /// What would bring it about, the most useful first.
    pub givers: Vec<GiverView>,
}

/// What would meet a need.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GiverView {
    /// The step's words; for a reflex, its sentence.
    pub words: String,
    /// Where it stands.
    pub stands: Stands,
}

/// Where a step stands that would meet a need.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stands {
    /// At this line of the learner's list, from 1.
    Line(usize),
    /// Left ashore.
    Ashore,
    /// Nobody does it: the plant does, once all that it waits for holds.
    ByItself,
    /// Told in the debrief.
    Untold,
}

/// A right order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RightOrder {
    /// The steps' words.
    pub words: Vec<String>,
    /// How many others there are: `one of 132 that work`, `the only one`.
    pub note: String,
}

impl RightOrder {
    /// The shortest order that works, as a procedure's proof has it.
    pub fn of(procedure: &Procedure, proof: Proof) -> Self {
        let words = proof.one.unwrap_or_default().into_iter().map(|s| procedure.steps[s].say.clone()).collect();
        let note = match proof.orders {
            Some(1) => "The only one that works.".to_owned(),
            Some(n) if n > 1 => format!("One of {n} that work."),
            _ => "One of those that work.".to_owned(),
        };
        Self { words, note }
    }
}

impl Severity {
    /// From the mildest to the worst.
    pub const ALL: [Severity; 4] = [Severity::NoEffect, Severity::Trip, Severity::Damage, Severity::Injury];

    /// The word for people.
    pub fn word(self) -> &'static str {
        match self {
            Severity::NoEffect => "No effect",
            Severity::Trip => "Trip",
            Severity::Damage => "Damage",
            Severity::Injury => "Injury",
        }
    }

    /// The whole scale in words, so that a word is seen in its place.
    pub const SCALE: &'static str = "on the scale: no effect, trip, damage, injury";
}

impl EffectView {
    /// `compressor cooled`, or `no longer: priming pump running`.
    pub fn words(&self) -> String {
        let name = small_first(&self.name);
        if self.holds { name } else { format!("no longer: {name}") }
    }
}

impl FailureView {
    /// The particular reason: what was missing, what would have given it, where that stands in the list.
    pub fn reason(&self) -> String {
        if self.missing.is_empty() {
            return "This step belongs to no right order.".to_owned();
        }
        self.missing.iter().map(|m| m.sentence(Some(self.line))).collect::<Vec<_>>().join(" ")
    }
}

impl MissingView {
    /// What is to be said about it, seen from a line of the list (from 1), or from the list's end.
    pub fn sentence(&self, from: Option<usize>) -> String {
        let name = &self.name;
        let mut said = match (self.must_not, from) {
            (false, Some(_)) => format!("Missing: “{name}”."),
            (true, Some(_)) => format!("“{name}” must not hold here, but it does."),
            (false, None) => format!("At the end “{name}” does not hold."),
            (true, None) => format!("At the end “{name}” still holds."),
        };
        if let Some(line) = self.undone_at {
            said += &format!(" Line {line} of your procedure undid it.");
        }
        match self.givers.first() {
            Some(giver) => said += &giver.sentence(self, from),
            None if self.must_not => said += " No step of this card ends it.",
            None => said += " No step of this card gives it.",
        }
        said
    }
}

impl GiverView {
    fn sentence(&self, missing: &MissingView, from: Option<usize>) -> String {
        let words = &self.words;
        let (does, would) = if missing.must_not { ("ends", "would end") } else { ("gives", "would give") };
        match self.stands {
            Stands::Ashore => format!(" “{words}” {would} it; you left that step ashore."),
            Stands::Untold => String::new(),
            Stands::ByItself => format!(" The plant {does} it by itself: {words}"),
            Stands::Line(line) if from.is_some_and(|from| line > from) => {
                format!(" “{words}” {does} it; that step stands at line {line} of your procedure.")
            }
            Stands::Line(line) if missing.undone_at.is_some() => {
                format!(" “{words}” {does} it; that step stands at line {line}, which was too early.")
            }
            Stands::Line(line) => {
                format!(" “{words}” {does} it; that step stands at line {line}, but did not succeed there.")
            }
        }
    }
}

impl SequenceRunView {
    /// How many lines did their work.
    pub fn done(&self) -> usize {
        self.lines.iter().filter(|l| l.how == How::Done).count()
    }

    /// Whether nothing went wrong and the goal is reached.
    pub fn works(&self) -> bool {
        self.failures.is_empty() && self.unmet.is_empty()
    }

    /// How many lines are played: up to the first failure, or all.
    pub fn played(&self) -> usize {
        self.failures.first().map_or(self.lines.len(), |f| f.line.min(self.lines.len()))
    }

    /// Whether a fact of the column holds after so many lines were played.
    pub fn holds(&self, fact: usize, after: usize) -> bool {
        let after = after.min(self.played()).checked_sub(1).and_then(|n| self.lines.get(n));
        let now = after.and_then(|line| line.facts_after.get(fact)).copied();
        now.unwrap_or_else(|| self.facts.get(fact).is_some_and(|f| f.holds))
    }

    /// Over the procedure: `first run, which counts: 2 of 14 lines`.
    pub fn note(&self) -> String {
        let tally = format!("{} of {}", self.done(), words::count(self.lines.len(), "line"));
        match self.run {
            0 | 1 => format!("first run, which counts: {tally}"),
            n => format!("run {}: {tally}; the first run counts", words::number(n)),
        }
    }
}

/// The text with its first letter small, unless it is the first of an abbreviation such as `CO2`.
fn small_first(text: &str) -> String {
    let mut chars = text.chars();
    match (chars.next(), chars.clone().next()) {
        (Some(first), Some(second)) if second.is_lowercase() => first.to_lowercase().chain(chars).collect(),
        _ => text.to_owned(),
    }
}
