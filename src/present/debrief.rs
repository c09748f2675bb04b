//! What a sitting came to, as data to draw and to print.

use crate::domain::ids::CardKey;
use crate::domain::oral::{Mark, MissedPoint};
use crate::present::block::TitleBlock;
use crate::present::labelled::Labelled;
use crate::present::tone::Tone;

/// A sitting's debrief.
#[derive(Debug, Clone, PartialEq)]
pub struct DebriefView {
    /// The sitting's id.
    pub id: String,
    /// From 1.
    pub number: usize,
    /// `Debrief of sitting 5, Wednesday 11 March`; of one that was ended by hand also after how many questions.
    pub about: String,
    /// The sitting was ended by hand, before its last question.
    pub early: bool,
    /// The verdict and why: `Not passed: 43 %, pass mark 60 %; one safety-critical point missed`.
    pub headline: String,
    /// What else belongs to the verdict: the functions below their pass mark, the safety-critical points.
    pub sentence: String,
    /// The tone of the headline.
    pub tone: Tone,
    /// A mark for each function that was asked, and for all together.
    pub functions: Vec<MarkRow>,
    /// Questions with missing points, those with safety-critical ones first.
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
    pub facts: Vec<Labelled>,
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
    /// The pass mark, 0 to 1.
    pub line: f64,
    /// At or above the pass mark.
    pub passes: bool,
}

/// A question with points that were missing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MissedRow {
    /// The question's number: `3`, `3b` for the second follow-up to question 3.
    pub number: String,
    /// What was asked, in plain words.
    pub asked: String,
    /// What a full answer says and this one did not, the safety-critical first.
    pub points: Vec<MissedPoint>,
    /// The card's reason, Markdown, with its first question here.
    pub because: Option<String>,
    /// Where it is from.
    pub source: String,
}

/// Something to study next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StudyRow {
    /// The heading, or the competence.
    pub name: String,
    /// `11 cards, 7 min`.
    pub detail: String,
}

/// What sort of question a turn is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TurnKind {
    /// A question in words of its own.
    Question,
    /// "What else?", in one of a few sentences.
    WhatElse,
    /// "And the reason behind it?"
    Reason,
}

/// A question with its answer.
#[derive(Debug, Clone, PartialEq)]
pub struct TurnView {
    /// `3`, `3b` for the second follow-up to question 3.
    pub number: String,
    /// What sort of question it is.
    pub kind: TurnKind,
    /// 0 for a lead question, 1 to 3 for follow-ups.
    pub depth: u8,
    /// `Lead question`, `Follow-up`.
    pub asked: String,
    /// What the examiner said first.
    pub lead_in: String,
    /// The question, Markdown.
    pub ask: String,
    /// The question in plain words.
    pub ask_plain: String,
    /// What was answered, in words.
    pub given: String,
    /// `5 of 6 points`.
    pub came_to: String,
    /// The tone of the answer.
    pub tone: Tone,
    /// The evidence, point by point; [`mark_word`] and [`mark_tone`] say it.
    pub marks: Vec<Mark>,
    /// The points that stayed missing or came after a prompt; none of a "What else?", which asks for another's.
    pub missed: Vec<MissedPoint>,
    /// The card's reason, Markdown; with its first question only.
    pub because: Option<String>,
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

impl MissedRow {
    /// A safety-critical point stayed missing.
    pub fn is_fatal(&self) -> bool {
        self.points.iter().any(MissedPoint::is_fatal)
    }
}

/// A missed point in words, with its state in brackets: `safety-critical`, `came after a prompt`, both, or none.
pub fn missed_words(point: &MissedPoint) -> String {
    let say = point.say.trim_end_matches('.');
    match (point.critical, point.prompted) {
        (true, false) => format!("{say} (safety-critical)"),
        (true, true) => format!("{say} (safety-critical; came after a prompt)"),
        (false, true) => format!("{say} (came after a prompt)"),
        (false, false) => say.to_owned(),
    }
}

/// How much of a point was there, in a word.
pub fn mark_word(mark: &Mark) -> &'static str {
    match mark.earned {
        all if all >= 1.0 => "there",
        some if some > 0.0 => "in part",
        _ => "missing",
    }
}

/// The tone of that word.
pub fn mark_tone(mark: &Mark) -> Tone {
    match mark.earned {
        all if all >= 1.0 => Tone::Good,
        some if some > 0.0 => Tone::Weak,
        _ => Tone::Bad,
    }
}
