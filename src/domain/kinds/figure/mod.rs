//! Figure: a number to know, typed in whatever unit of its dimension.

mod content;
mod judge;

pub use content::Figure;
pub(super) use judge::{Standing, Verdict, judge};

use serde::Serialize;

use super::kind::{CardKind, Facts, Handed, Marked, Marks, Weighed};
use crate::domain::answer::{Form, Given};
use crate::domain::editions::{Part, What, number};
use crate::domain::key_point::KeyPoint;
use crate::domain::marking::{AnswerError, Slip};
use crate::domain::outcome::Outcome;

pub(super) const FACTS: Facts = Facts { word: "figure", forms: &[Form::Text], first_seconds: 15.0, oral_seconds: 40.0 };

/// What only the marking of a figure tells: a figure compared.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Told {
    /// The right value as the deck writes it.
    pub expected: String,
    /// The relative error, without sign, in the card's own unit; none where the dimension is wrong.
    pub error: Option<f64>,
    /// A known slip.
    pub slip: Option<Slip>,
}

impl CardKind for Figure {
    fn facts(&self) -> &'static Facts {
        &FACTS
    }

    fn rule(&self, fluent: &str) -> String {
        format!("The right figure: Answered{fluent}. The right number without its unit: Prompted. Else: Missed.")
    }

    fn expected(&self) -> Vec<KeyPoint> {
        vec![KeyPoint::plain(self.value_text.clone(), false)]
    }

    fn asked(&self) -> Vec<Part> {
        vec![Part::one(What::Value, &number(&self.value)), Part::one(What::Tolerance, &self.within.written())]
    }

    fn texts(&self) -> Vec<&str> {
        vec![&self.value_text]
    }

    fn is_plain_question(&self) -> bool {
        true
    }
}

impl Marks for Figure {
    type Told = Told;

    fn mark(&self, answer: &Handed<'_>) -> Result<Marked<Told>, AnswerError> {
        match answer.given {
            Given::Text(text) => mark(self, text, answer.in_time),
            _ => Err(FACTS.wrong_form()),
        }
    }

    fn weigh(&self, told: &Told, outcome: Outcome) -> Vec<Weighed> {
        vec![Weighed::by_outcome(&told.expected, outcome)]
    }
}

/// Marks a typed figure.
fn mark(figure: &Figure, text: &str, in_time: bool) -> Result<Marked<Told>, AnswerError> {
    let verdict = judge(figure, None, text)?;
    let outcome = verdict.outcome(in_time);
    let told = Told { expected: figure.value_text.clone(), error: verdict.error, slip: verdict.slip };
    Ok(Marked { outcome, reason: verdict.reason, told })
}
