//! A sitting as plain data: how it was set up, and its turns. Kept as it is, so that it can be taken up and looked at
//! again whatever has become of the decks.

use serde::{Deserialize, Serialize};

use super::setup::Setup;
use crate::domain::answer::Given;
use crate::domain::ids::CardKey;
use crate::domain::key_point::KeyPoint;
use crate::domain::outcome::Outcome;

/// A sitting.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Sitting {
    /// How it was set up.
    pub setup: Setup,
    /// In the order of asking; only the last may be without an answer.
    pub turns: Vec<Turn>,
}

/// A question with its answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Turn {
    /// What was asked.
    pub question: Question,
    /// What came; none while it stands.
    pub answer: Option<Answered>,
}

/// A question of the examiner.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Question {
    /// Unlike any other of the sitting: the card's key, and for a follow-up what it is about.
    pub id: String,
    /// The card of the lead question that it belongs to.
    pub card: CardKey,
    /// The competence's key.
    pub competence: String,
    /// 0 for a lead question, 1 to 3 for follow-ups.
    pub depth: u8,
    /// What made the examiner ask it.
    pub asked: Asked,
    /// The turn (from 0) that provoked it; none for a lead question.
    pub about: Option<usize>,
    /// What the examiner says first: `Next question.`; empty where nothing.
    pub lead_in: String,
    /// The words, Markdown.
    pub ask: String,
    /// What a full answer to a follow-up says; empty for a lead question, whose card says it.
    pub points: Vec<KeyPoint>,
    /// Where it is from, for the debrief.
    pub sources: Vec<String>,
    /// Seconds that the answer may take.
    pub limit_seconds: f64,
}

/// What made the examiner ask.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Asked {
    /// By blueprint.
    Lead,
    /// A point (its number, from 1) of what was asked before was missed; the deck or the model has a question for it.
    Missed(usize),
    /// Points of what was asked before were missed: "What else?", for all that are still missing.
    WhatElse,
    /// The answer was full: one level deeper.
    Deeper,
    /// What the plant does if something else happens.
    WhatIf,
}

/// An answer, marked.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Answered {
    /// What was given; none where the learner had nothing to say.
    pub given: Option<Given>,
    /// The evidence, point by point.
    pub marks: Vec<Mark>,
    /// What it came to.
    pub outcome: Outcome,
    /// The learner had nothing (more) to say.
    pub ran_dry: bool,
    /// Time taken.
    pub seconds: f64,
    /// Who marked it.
    pub by: MarkedBy,
    /// The second person's note.
    pub note: String,
    /// The recording, as a file's name in the profile's folder.
    pub recording: Option<String>,
}

/// One point's mark.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Mark {
    /// What a full answer says.
    pub say: String,
    /// 0 to 1.
    pub earned: f64,
    /// Missing it is unsafe.
    pub critical: bool,
}

/// Who marked an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum MarkedBy {
    /// The program, from what was typed or set.
    Program,
    /// The learner, from the key points.
    Learner,
    /// A second person.
    Second,
}

impl Sitting {
    /// A sitting before its first question.
    pub fn begin(setup: Setup) -> Self {
        Self { setup, turns: Vec::new() }
    }

    /// The question that stands.
    pub fn standing(&self) -> Option<&Question> {
        self.turns.last().filter(|turn| turn.answer.is_none()).map(|turn| &turn.question)
    }

    /// Seconds answered so far.
    pub fn seconds(&self) -> f64 {
        self.turns.iter().filter_map(|turn| turn.answer.as_ref()).map(|answer| answer.seconds).sum()
    }

    /// Lead questions asked so far.
    pub fn leads(&self) -> impl Iterator<Item = &Turn> {
        self.turns.iter().filter(|turn| turn.question.asked == Asked::Lead)
    }

    /// The turns of the lead question that the last turn belongs to, with the lead first.
    pub(super) fn thread(&self) -> &[Turn] {
        let from = self.turns.iter().rposition(|turn| turn.question.asked == Asked::Lead).unwrap_or(0);
        &self.turns[from..]
    }
}

impl Asked {
    /// A prompt for what was missing in the turn that it is about: no question of its own.
    pub fn is_prompt(self) -> bool {
        matches!(self, Asked::Missed(_) | Asked::WhatElse)
    }
}

impl Answered {
    /// The answer was said aloud and marked by the learner, before whom all points then lay.
    pub fn saw_the_points(&self) -> bool {
        self.by == MarkedBy::Learner && matches!(self.given, Some(Given::Said(_)))
    }

    /// All that was asked for is there.
    pub fn is_full(&self) -> bool {
        self.marks.iter().all(|mark| mark.earned >= 1.0)
    }

    /// Positions (from 0) of the points that are not there, the safety-critical first.
    pub fn missing(&self) -> Vec<usize> {
        let mut missing: Vec<usize> = (0..self.marks.len()).filter(|at| self.marks[*at].earned <= 0.0).collect();
        missing.sort_by_key(|at| !self.marks[*at].critical);
        missing
    }
}
