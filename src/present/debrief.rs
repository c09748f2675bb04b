//! What a sitting came to, as data to draw and to print.

use crate::domain::ids::CardKey;
use crate::present::{TitleBlock, Tone};

/// A sitting's debrief.
#[derive(Debug, Clone, PartialEq)]
pub struct DebriefView {
    /// The sitting's id.
    pub id: String,
    /// From 1.
    pub number: usize,
    /// `Debrief of sitting 5, Wednesday 11 March`.
    pub about: String,
    /// `Three functions of four pass`.
    pub headline: String,
    /// What that means for the real day.
    pub sentence: String,
    /// How that is.
    pub tone: Tone,
    /// A mark for each function that was asked, and for all together.
    pub functions: Vec<MarkRow>,
    /// Missing points, the safety-critical first.
    pub missed: Vec<MissedRow>,
    /// What went well, a line each.
    pub well: Vec<String>,
    /// What to study next.
    pub study: Vec<StudyRow>,
    /// The cards of *Study these now*.
    pub study_cards: Vec<CardKey>,
    /// The conversation, question by question.
    pub turns: Vec<TurnView>,
    /// Facts for a report: label and value.
    pub facts: Vec<(String, String)>,
    /// The title block.
    pub block: TitleBlock,
}

/// A mark against its line.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkRow {
    /// The function's name, or `All together`.
    pub name: String,
    /// 0 to 1.
    pub share: f64,
    /// What passes, 0 to 1.
    pub line: f64,
    /// At or above the line.
    pub passes: bool,
}

/// A point that was missing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MissedRow {
    /// What was asked, in plain words.
    pub asked: String,
    /// What a full answer says.
    pub say: String,
    /// Where it is from.
    pub source: String,
    /// Missing it is unsafe.
    pub critical: bool,
    /// It came after the examiner's prompt.
    pub prompted: bool,
}

/// Something to study next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StudyRow {
    /// The heading, or the competence.
    pub name: String,
    /// `11 cards, 7 min`.
    pub detail: String,
}

/// A question with its answer.
#[derive(Debug, Clone, PartialEq)]
pub struct TurnView {
    /// 0 for a lead question, 1 to 3 for follow-ups.
    pub depth: u8,
    /// `Lead question`, `Follow-up`.
    pub asked: String,
    /// What the examiner said first.
    pub lead_in: String,
    /// The question, Markdown.
    pub ask: String,
    /// The same in plain words.
    pub ask_plain: String,
    /// What was answered, in words.
    pub given: String,
    /// `5 of 6 points`.
    pub came_to: String,
    /// How it went.
    pub tone: Tone,
    /// Point by point: its words, how it went in a word, how that is, safety-critical.
    pub marks: Vec<(String, String, Tone, bool)>,
    /// `1 min 12 s of 2 min`.
    pub time: String,
    /// `marked by the program`.
    pub by: String,
    /// The answer was recorded.
    pub recorded: bool,
    /// The second person's note.
    pub note: String,
    /// Where it is from.
    pub source: String,
}
