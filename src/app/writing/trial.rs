//! A card that is answered by whoever writes it, what was made of the answer, and what a sample of it is to expect.

use crate::app::sheet::{AnswerSheet, Stage};
use crate::deck::writing::Place;
use crate::domain::answer::Answer;
use crate::domain::card::Card;
use crate::domain::marking::Marking;
use crate::domain::marking::reader::Reading;
use crate::domain::outcome::Outcome;
use crate::domain::sample::{Expected, Sample, SampleAnswer};

/// A card that is answered by whoever writes it.
#[derive(Debug)]
pub struct Trial {
    /// The card as it was when it was taken up.
    pub card: Card,
    /// Where it stands, and in which file; none where it is not written any more.
    pub place: Option<(String, Place)>,
    /// Its sheet.
    pub sheet: AnswerSheet,
    /// What the trained reader made of a typed answer.
    pub reading: Option<Reading>,
    /// How it was marked is to be told as soon as it is marked.
    pub told_at_once: bool,
    /// What a sample of the answer is to expect; none until that is looked at.
    pub wanted: Option<WantedOfSample>,
}

/// What a sample is to expect.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct WantedOfSample {
    /// Points that must be said, from 1.
    pub says: Vec<usize>,
    /// Points that must be denied, from 1.
    pub denies: Vec<usize>,
    /// What it must come to.
    pub outcome: Option<Outcome>,
}

impl WantedOfSample {
    /// All as it was found.
    pub fn as_found(marking: &Marking) -> Self {
        let points = marking.detail.points().unwrap_or_default();
        let of = |is: &dyn Fn(usize) -> bool| (1..=points.len()).filter(|n| is(*n - 1)).collect();
        Self {
            says: of(&|at| points[at].said),
            denies: of(&|at| points[at].contradicted),
            outcome: Some(marking.outcome),
        }
    }

    /// Whether it expects anything at all.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

impl Trial {
    /// A card with its sheet.
    pub fn of(card: Card, place: Option<(String, Place)>, sheet: AnswerSheet) -> Self {
        Self { card, place, sheet, reading: None, told_at_once: false, wanted: None }
    }

    /// The answer with its marking, once it is marked.
    pub fn marked(&self) -> Option<(Answer, &Marking)> {
        let Stage::Marked(marked) = &self.sheet.stage else { return None };
        let marking = marked.read.as_ref().unwrap_or(&marked.marking);
        Some((Answer { given: marked.given.clone(), seconds: None }, marking))
    }

    /// In what a sample of this answer would come out otherwise, in words; empty where it would not.
    pub fn otherwise(&self) -> String {
        let (Some((answer, marking)), Some(wanted)) = (self.marked(), &self.wanted) else { return String::new() };
        let expected = Expected {
            says: wanted.says.clone(),
            denies: wanted.denies.clone(),
            outcome: wanted.outcome,
            ..Expected::default()
        };
        let sample = Sample { answer: SampleAnswer::Given(answer.given), seconds: None, expected };
        let differences: Vec<String> = sample.differences(marking).iter().map(ToString::to_string).collect();
        differences.join("; ")
    }
}
