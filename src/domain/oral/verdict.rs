//! What a sitting comes to: a mark for each function against the line, and what failed it.

use super::blueprint::function_of;
use super::sitting::{Answered, Asked, Question, Sitting};

/// What a sitting comes to.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// In the order of the blueprint; functions that were not asked are not here.
    pub functions: Vec<FunctionMark>,
    /// Points earned and points asked over all.
    pub earned: f64,
    /// Points asked over all.
    pub of: f64,
    /// The sitting would pass.
    pub passes: bool,
    /// Why it would not.
    pub failings: Vec<Failing>,
}

/// A function's mark.
#[derive(Debug, Clone, PartialEq)]
pub struct FunctionMark {
    /// The function's key.
    pub function: String,
    /// Points earned; a point that came only after a prompt counts half.
    pub earned: f64,
    /// Points asked.
    pub of: f64,
    /// At or above the line.
    pub passes: bool,
}

/// A competence's mark.
#[derive(Debug, Clone, PartialEq)]
pub struct CompetenceMark {
    /// The competence's key.
    pub competence: String,
    /// Points earned; a point that came only after a prompt counts half.
    pub earned: f64,
    /// Points asked.
    pub of: f64,
}

/// Something that fails a sitting.
#[derive(Debug, Clone, PartialEq)]
pub enum Failing {
    /// The share over all is below the line.
    Overall,
    /// A function is below its line.
    Function(String),
    /// A safety-critical point was missing, even after a prompt: the turn (from 0) and the point's words.
    Critical(usize, String),
    /// Nothing was asked.
    NothingAsked,
}

/// A point that came only after the examiner's prompt.
const PROMPTED: f64 = 0.5;

/// Concludes a sitting, finished or broken off.
pub fn verdict(sitting: &Sitting) -> Verdict {
    let rules = sitting.setup.blueprint.rules;
    let mut failings: Vec<Failing> = Vec::new();
    if rules.critical_fails {
        let answered = sitting.turns.iter().enumerate().filter_map(|(at, turn)| Some((at, turn.answer.as_ref()?)));
        failings.extend(answered.flat_map(|(at, answer)| fatal(sitting, at, answer)));
    }
    let by_function = marks_by(sitting, |question| function_of(&question.competence));
    let mut functions: Vec<FunctionMark> = by_function
        .into_iter()
        .map(|mark| FunctionMark { function: mark.key.to_owned(), earned: mark.earned, of: mark.of, passes: false })
        .collect();
    let order: Vec<&str> = sitting.setup.blueprint.functions().into_iter().map(|(key, _)| key).collect();
    functions.sort_by_key(|mark| order.iter().position(|key| *key == mark.function));
    for mark in &mut functions {
        mark.passes = mark.share() + 1e-9 >= rules.each_function;
        if !mark.passes {
            failings.push(Failing::Function(mark.function.clone()));
        }
    }
    let (earned, of) = functions.iter().fold((0.0, 0.0), |sum, mark| (sum.0 + mark.earned, sum.1 + mark.of));
    if of <= 0.0 {
        failings.push(Failing::NothingAsked);
    } else if earned / of + 1e-9 < rules.overall {
        failings.push(Failing::Overall);
    }
    Verdict { functions, earned, of, passes: failings.is_empty(), failings }
}

impl FunctionMark {
    /// Share of its points, 0 to 1.
    pub fn share(&self) -> f64 {
        if self.of > 0.0 { self.earned / self.of } else { 1.0 }
    }
}

impl CompetenceMark {
    /// Share of the points, 0 to 1; none where nothing was asked.
    pub fn share(&self) -> Option<f64> {
        (self.of > 0.0).then(|| self.earned / self.of)
    }
}

impl Verdict {
    /// The safety-critical points that stayed missing and fail the sitting, in full.
    pub fn fatal(&self) -> Vec<&str> {
        let critical = self.failings.iter().filter_map(|failing| match failing {
            Failing::Critical(_, say) => Some(say.as_str()),
            _ => None,
        });
        critical.collect()
    }

    /// Share of all points, 0 to 1.
    pub fn share(&self) -> f64 {
        if self.of > 0.0 { self.earned / self.of } else { 0.0 }
    }
}

/// What a point (from 0) is worth: what was earned, or half where it came after a prompt.
fn worth(sitting: &Sitting, at: usize, answer: &Answered, point: usize) -> f64 {
    let earned = answer.marks[point].earned;
    if recovered(sitting, at, point) { earned.max(PROMPTED) } else { earned }
}

/// The point (from 0) of a turn came after a prompt: a follow-up that asked for it alone was answered in full, or one
/// that asked for all that was missing held it.
pub(super) fn recovered(sitting: &Sitting, at: usize, point: usize) -> bool {
    let say = |answer: &Answered| answer.marks.get(point).map(|mark| mark.say.clone());
    let Some(say) = sitting.turns[at].answer.as_ref().and_then(say) else { return false };
    sitting.turns.iter().filter(|turn| turn.question.about == Some(at)).any(|turn| {
        let Some(answer) = &turn.answer else { return false };
        match turn.question.asked {
            Asked::Missed(asked) => asked == point + 1 && !answer.marks.is_empty() && answer.is_full(),
            Asked::WhatElse => answer.marks.iter().any(|mark| mark.say == say && mark.earned >= 1.0),
            _ => false,
        }
    })
}

/// The safety-critical points of a turn that stayed missing.
fn fatal(sitting: &Sitting, at: usize, answer: &Answered) -> Vec<Failing> {
    answer
        .marks
        .iter()
        .enumerate()
        .filter(|(point, mark)| mark.critical && mark.earned <= 0.0 && !recovered(sitting, at, *point))
        // A plain prompt asks for the same point once more: it fails once.
        .filter(|(_, mark)| !repeats(sitting, at, &mark.say))
        .map(|(_, mark)| Failing::Critical(at, mark.say.clone()))
        .collect()
}

/// A turn asks for a point that the one it is about held already.
pub(super) fn repeats(sitting: &Sitting, at: usize, say: &str) -> bool {
    let about = sitting.turns[at].question.about.and_then(|about| sitting.turns.get(about)?.answer.as_ref());
    about.is_some_and(|before| before.marks.iter().any(|mark| mark.say == say))
}

/// What each competence that was asked came to. As in [`verdict`], prompts earn half and are not asked for twice.
pub fn competence_marks(sitting: &Sitting) -> Vec<CompetenceMark> {
    let marks = marks_by(sitting, |question| &question.competence).into_iter();
    marks.map(|mark| CompetenceMark { competence: mark.key.to_owned(), earned: mark.earned, of: mark.of }).collect()
}

/// The mark of a group of questions, by its key.
struct GroupMark<'a> {
    key: &'a str,
    earned: f64,
    of: f64,
}

/// Points earned and asked for each group of questions, in the order of asking; prompts are no questions of their own.
fn marks_by<'a>(sitting: &'a Sitting, group: impl Fn(&'a Question) -> &'a str) -> Vec<GroupMark<'a>> {
    let mut marks: Vec<GroupMark<'a>> = Vec::new();
    for (at, turn) in sitting.turns.iter().enumerate() {
        let Some(answer) = turn.answer.as_ref().filter(|_| !turn.question.asked.is_prompt()) else {
            continue;
        };
        let earned: f64 = (0..answer.marks.len()).map(|point| worth(sitting, at, answer, point)).sum();
        let of = answer.marks.len() as f64;
        let key = group(&turn.question);
        match marks.iter_mut().find(|mark| mark.key == key) {
            Some(mark) => (mark.earned, mark.of) = (mark.earned + earned, mark.of + of),
            None => marks.push(GroupMark { key, earned, of }),
        }
    }
    marks
}
